import { useState } from 'react';
import { Form } from '../../ui/Form.js';
import { FormFoot } from '../../ui/FormFoot.js';
import { TextField } from '../../ui/TextField.js';
import { useNotThere } from './not-there-actions.js';

export interface NotThereFormProps {
  readonly thing: { readonly id: string; readonly code: string };
  /** the place that was looked in; null: wherever the books have it */
  readonly placeId: string | null;
  /** the same in words */
  readonly where: string;
  readonly onClose: () => void;
}

/** Somebody stands where the books have a thing, and it is not there. A note is not asked for, but it helps whoever looks next. */
export function NotThereForm({ thing, placeId, where, onClose }: NotThereFormProps) {
  const [note, setNote] = useState('');
  const marking = useNotThere(thing.id, onClose);
  const submit = () => {
    if (!marking.isPending) marking.mutate({ placeId, note });
  };
  return (
    <Form label={`Not there: ${thing.code}`} onSubmit={submit}>
      <p>
        Looked for in {where}. Nobody counts on it until it is found, and jobs that do are warned. What is reserved of it stays
        reserved.
      </p>
      <TextField
        label="What whoever looks next should know"
        value={note}
        onChange={setNote}
        note="where else you looked, who had it last; it may stay empty"
        autoFocus
        maxLength={200}
      />
      <FormFoot act="It is not there" failed="Not marked" sending={marking} onClose={onClose} />
    </Form>
  );
}
