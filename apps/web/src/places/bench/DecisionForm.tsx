import type { ScanRefusal } from '@corewright/contracts/bench';
import { useState } from 'react';
import { Button } from '../../ui/Button.js';
import { CheckField } from '../../ui/CheckField.js';
import { Form } from '../../ui/Form.js';
import { SelectField } from '../../ui/SelectField.js';
import { TextField } from '../../ui/TextField.js';
import type { BenchChoice } from './choices.js';
import type { Said } from './use-decision.js';
import { useDraft } from './use-draft.js';

interface DecisionFormProps {
  readonly choice: BenchChoice;
  /** the stopped command's key: what was keyed about it is kept under it */
  readonly about: string;
  readonly refusal: ScanRefusal;
  readonly onDecide: (said: Said) => void;
}

/** What must be said with a choice, and stays on the record with the name of the person who is signed in. */
export function DecisionForm({ choice, refusal, about, onDecide }: DecisionFormProps) {
  switch (choice.needs) {
    case 'line':
      return <InPlaceForm refusal={refusal} about={about} onDecide={onDecide} />;
    case 'operation':
      return <FurtherForm refusal={refusal} about={about} onDecide={onDecide} />;
    case 'reason':
      return <ReasonForm about={about} onDecide={onDecide} />;
    case 'quantity':
      return <QuantityForm about={about} onDecide={onDecide} />;
    case 'nothing':
      return null;
  }
}

const wanting = 'This cannot be left empty.';

function InPlaceForm({ refusal, about, onDecide }: Omit<DecisionFormProps, 'choice'>) {
  const [keyed, setKeyed] = useDraft(
    `${about} line`,
    refusal.suggested ?? { lineId: refusal.lines[0]?.id ?? '', why: '', evidence: '' },
  );
  const [tried, setTried] = useState(false);
  const complete = keyed.lineId !== '' && keyed.why.trim() !== '' && keyed.evidence.trim() !== '';
  return (
    <Form label="Fit in place of a line" onSubmit={() => (complete ? onDecide({ inPlaceOf: keyed }) : setTried(true))}>
      <SelectField
        label="In place of line"
        value={keyed.lineId}
        choices={refusal.lines.map((line) => ({
          value: line.id,
          label: `${line.lineNo}  ${line.name}, ${line.stillToCome} to come`,
        }))}
        onChange={(lineId) => setKeyed({ ...keyed, lineId })}
        error={refusal.lines.length === 0 ? 'Every line of this job is complete. Take a further line instead.' : null}
      />
      <TextField
        label="Why it will serve"
        value={keyed.why}
        onChange={(why) => setKeyed({ ...keyed, why })}
        error={tried && keyed.why.trim() === '' ? wanting : null}
        autoFocus
        isRequired
      />
      <TextField
        label="On what evidence"
        value={keyed.evidence}
        onChange={(evidence) => setKeyed({ ...keyed, evidence })}
        note="Measured, a catalogue page, a trial fit. It holds for this job and this line only."
        error={tried && keyed.evidence.trim() === '' ? wanting : null}
        isRequired
      />
      <Button type="submit" look="main">
        Fit it, in my name
      </Button>
    </Form>
  );
}

function FurtherForm({ refusal, about, onDecide }: Omit<DecisionFormProps, 'choice'>) {
  const [keyed, setKeyed] = useDraft(`${about} operation`, {
    operationId: refusal.operations[0]?.id ?? '',
    critical: false,
    why: '',
  });
  const [tried, setTried] = useState(false);
  const complete = keyed.operationId !== '' && keyed.why.trim() !== '';
  return (
    <Form label="Add a further line" onSubmit={() => (complete ? onDecide({ furtherLine: keyed }) : setTried(true))}>
      <SelectField
        label="Needed at operation"
        value={keyed.operationId}
        choices={refusal.operations.map((operation) => ({
          value: operation.id,
          label: `${operation.number}  ${operation.name}`,
        }))}
        onChange={(operationId) => setKeyed({ ...keyed, operationId })}
      />
      <TextField
        label="Why the job needs it"
        value={keyed.why}
        onChange={(why) => setKeyed({ ...keyed, why })}
        error={tried && keyed.why.trim() === '' ? wanting : null}
        autoFocus
        isRequired
      />
      <CheckField isSelected={keyed.critical} onChange={(critical) => setKeyed({ ...keyed, critical })}>
        Critical: the job stops without it
      </CheckField>
      <Button type="submit" look="main">
        Add the line and go on
      </Button>
    </Form>
  );
}

function ReasonForm({ about, onDecide }: Pick<DecisionFormProps, 'about' | 'onDecide'>) {
  const [reason, setReason] = useDraft(`${about} reason`, '');
  const [tried, setTried] = useState(false);
  return (
    <Form
      label="Go against the rule"
      onSubmit={() => (reason.trim() === '' ? setTried(true) : onDecide({ override: { reason } }))}
    >
      <TextField
        label="Reason"
        value={reason}
        onChange={setReason}
        note="The build record prints it with your name. The maker’s manual, local codes and qualified people have the last word."
        error={tried && reason.trim() === '' ? wanting : null}
        autoFocus
        isRequired
      />
      <Button type="submit" look="grave">
        All the same, in my name
      </Button>
    </Form>
  );
}

function QuantityForm({ about, onDecide }: Pick<DecisionFormProps, 'about' | 'onDecide'>) {
  const [quantity, setQuantity] = useDraft(`${about} quantity`, '');
  const valid = /^\d{1,10}(\.\d{1,4})?$/.test(quantity);
  const [tried, setTried] = useState(false);
  return (
    <Form label="Another quantity" onSubmit={() => (valid ? onDecide({ quantity }) : setTried(true))}>
      <TextField
        label="How many"
        value={quantity}
        onChange={(keyed) => setQuantity(keyed.replace(',', '.').trim())}
        inputMode="decimal"
        error={tried && !valid ? 'A quantity is a number such as 2 or 0.85.' : null}
        autoFocus
        isRequired
      />
      <Button type="submit" look="main">
        Take so many
      </Button>
    </Form>
  );
}
