import type { CoreAge } from '@corewright/contracts/core-ages';
import { useState } from 'react';
import { newKey } from '../../api/uuid.js';
import { Acts, Button } from '../../ui/Button.js';
import { CautionLine } from '../../ui/CautionLine.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { RadioRow } from '../../ui/RadioRow.js';
import { TextField } from '../../ui/TextField.js';
import { type Decided, useReviewCore } from './core-queries.js';

export interface ReviewCoreFormProps {
  readonly core: CoreAge;
  /** The day that is offered for the next time. */
  readonly nextOffered: string;
  readonly onClose: () => void;
}

const DECISIONS: readonly { value: Decided; label: string }[] = [
  { value: 'keep', label: 'Keep it' },
  { value: 'rebuild', label: 'Rebuild it' },
  { value: 'break for spares', label: 'Break it for spares' },
  { value: 'sell', label: 'Sell it' },
];

/** Somebody has looked a core through: what they decided, why, and when it is looked through next. */
export function ReviewCoreForm({ core, nextOffered, onClose }: ReviewCoreFormProps) {
  const [id] = useState(newKey);
  const [decided, setDecided] = useState<Decided | null>(null);
  const [note, setNote] = useState('');
  const [nextOn, setNextOn] = useState(nextOffered);
  const [wasTried, setWasTried] = useState(false);
  const review = useReviewCore(core.id, onClose);
  const submit = () => {
    setWasTried(true);
    if (decided === null || note.trim() === '' || nextOn === '' || review.isPending) return;
    review.mutate({ id, decided, note, nextOn });
  };
  return (
    <Form label={`Look ${core.code} through`} onSubmit={submit}>
      <RadioRow label="What becomes of it" value={decided} choices={DECISIONS} onChange={setDecided} />
      {wasTried && decided === null && <p role="alert">Say what becomes of it.</p>}
      <FieldPair>
        <TextField
          label="What was seen, and why"
          value={note}
          onChange={setNote}
          note="it stays on the record with your name"
          error={wasTried && note.trim() === '' ? 'Say what was seen.' : null}
          maxLength={200}
        />
        <TextField
          label="Look it through again on"
          type="date"
          value={nextOn}
          onChange={setNextOn}
          error={wasTried && nextOn === '' ? 'Name a day.' : null}
        />
      </FieldPair>
      <CautionLine>
        Castings are heavy. Old gaskets and linings can hold asbestos, old paint lead. Follow the maker’s manual, local codes and
        qualified practice.
      </CautionLine>
      {review.isError && <Failure error={review.error} word="Not put down" kept="What you keyed is kept." />}
      <Acts>
        <Button type="submit" look="main" isPending={review.isPending}>
          Put it on the record
        </Button>
        <Button onPress={onClose}>Leave it</Button>
      </Acts>
    </Form>
  );
}
