import type { DeskRow } from '@corewright/contracts/opening-stock';
import { useMutation } from '@tanstack/react-query';
import { useState } from 'react';
import { newKey } from '../../../api/uuid.js';
import { FieldPair, Form } from '../../../ui/Form.js';
import { FormFoot } from '../../../ui/FormFoot.js';
import { QuantityField } from '../../../ui/QuantityField.js';
import { TextField } from '../../../ui/TextField.js';
import { splitRow } from './desk-actions.js';

export interface SplitFormProps {
  readonly row: DeskRow;
  readonly onSplit: () => void;
  readonly onClose: () => void;
}

/** So many of them are something else: a row of its own, with a code of its own, that waits to be named. */
export function SplitForm({ row, onSplit, onClose }: SplitFormProps) {
  const [id] = useState(newKey);
  const [count, setCount] = useState('1');
  const [words, setWords] = useState('');
  const splitting = useMutation({ mutationFn: () => splitRow(row, { id, count, words }), onSuccess: onSplit });
  return (
    <Form
      label="Split off"
      onSubmit={() => {
        if (!splitting.isPending) splitting.mutate();
      }}
    >
      <FieldPair>
        <QuantityField
          label="How many are something else"
          value={count}
          onChange={setCount}
          unit={`of ${row.quantity}`}
          autoFocus
        />
        <TextField label="What those are" value={words} onChange={setWords} note="empty: the same words" maxLength={200} />
      </FieldPair>
      <FormFoot act="Split them off" failed="Not split off" sending={splitting} onClose={onClose} />
    </Form>
  );
}
