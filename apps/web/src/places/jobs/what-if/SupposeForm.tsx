import type { Supposition } from '@corewright/contracts/what-if';
import { type ReactNode, useState } from 'react';
import { Acts, Button } from '../../../ui/Button.js';
import { ComboField } from '../../../ui/ComboField.js';
import type { ComboOption, ComboSource } from '../../../ui/combo-options.js';
import { FieldPair, Form } from '../../../ui/Form.js';
import { RadioRow } from '../../../ui/RadioRow.js';
import { SelectField } from '../../../ui/SelectField.js';
import { TextField } from '../../../ui/TextField.js';
import { STANDARDS } from '../NewJobScreen.js';
import { findParts } from '../queries.js';
import { type Draft, emptyDraft, suppositionOf } from './draft.js';
import { KINDS } from './kinds.js';
import { LineOfJob } from './LineOfJob.js';
import { findCores, findOpenJobs, findOrders } from './queries.js';

export interface SupposeFormProps {
  /** The job with which the person came. */
  readonly job: ComboOption | null;
  /** Whether something is supposed already. */
  readonly isFurther: boolean;
  readonly onSuppose: (supposition: Supposition) => void;
}

/** One supposition after another: what kind, and of which job, core, order or part. */
export function SupposeForm({ job, isFurther, onSuppose }: SupposeFormProps) {
  const [draft, setDraft] = useState<Draft>({ ...emptyDraft, job });
  const [fault, setFault] = useState<string | null>(null);
  const change = (changed: Partial<Draft>) => {
    setDraft({ ...draft, ...changed });
    setFault(null);
  };
  const suppose = () => {
    const supposed = suppositionOf(draft);
    if (typeof supposed === 'string') return setFault(supposed);
    onSuppose(supposed);
    setDraft({ ...emptyDraft, kind: draft.kind });
  };
  return (
    <Form label="Suppose something" onSubmit={suppose}>
      <SelectField label="Suppose that" value={draft.kind} choices={KINDS} onChange={(kind) => change({ kind })} />
      <Fields draft={draft} change={change} />
      {fault !== null && (
        <p role="alert">
          <b>{fault}</b>
        </p>
      )}
      <Acts>
        <Button look="main" type="submit">
          {isFurther ? 'Suppose this as well' : 'Suppose this'}
        </Button>
      </Acts>
    </Form>
  );
}

interface FieldsProps {
  readonly draft: Draft;
  readonly change: (changed: Partial<Draft>) => void;
}

function Fields({ draft, change }: FieldsProps) {
  const job = (
    <Pick label="Job" source={findOpenJobs} chosen={draft.job} onChoose={(chosen) => change({ job: chosen, lineId: '' })} />
  );
  const part = (
    <Pick label="The other part" source={findParts} chosen={draft.part} onChoose={(chosen) => change({ part: chosen })} />
  );
  switch (draft.kind) {
    case 'first':
      return job;
    case 'standard':
      return (
        <FieldPair>
          {job}
          <SelectField
            label="Built"
            value={draft.standard}
            choices={STANDARDS}
            onChange={(standard) => change({ standard })}
            note="what a line says of itself stays"
          />
        </FieldPair>
      );
    case 'core':
      return (
        <>
          <Pick
            label="Core"
            source={findCores}
            chosen={draft.core}
            onChoose={(core) => change({ core })}
            note="whole, free and in the yard"
          />
          <RadioRow
            label="It gives"
            value={draft.gives}
            onChange={(gives) => change({ gives })}
            choices={[
              { value: 'expected', label: 'what is to be expected of it' },
              { value: 'all', label: 'all that its type has' },
            ]}
          />
        </>
      );
    case 'order':
      return <OrderFields draft={draft} change={change} />;
    case 'instead':
      return (
        <>
          {job}
          {draft.job !== null && <LineOfJob jobId={draft.job.id} lineId={draft.lineId} onLine={(lineId) => change({ lineId })} />}
          {part}
        </>
      );
    case 'instead-everywhere':
      return (
        <FieldPair>
          <Pick
            label="Wherever this is asked for"
            source={findParts}
            chosen={draft.forPart}
            onChoose={(forPart) => change({ forPart })}
          />
          {part}
        </FieldPair>
      );
  }
}

function OrderFields({ draft, change }: FieldsProps) {
  return (
    <>
      <Pick label="Order" source={findOrders} chosen={draft.order} onChoose={(order) => change({ order })} />
      <RadioRow
        label="It comes"
        value={draft.comes}
        onChange={(comes) => change({ comes })}
        choices={[
          { value: 'late', label: 'later' },
          { value: 'on', label: 'on a day' },
          { value: 'never', label: 'not at all' },
        ]}
      />
      {draft.comes === 'late' && (
        <FieldPair>
          <TextField
            label="Later by"
            value={draft.count}
            onChange={(count) => change({ count })}
            inputMode="numeric"
            maxLength={4}
          />
          <SelectField
            label="Days or weeks"
            value={draft.span}
            choices={[
              { value: 'days', label: 'days' },
              { value: 'weeks', label: 'weeks' },
            ]}
            onChange={(span) => change({ span })}
          />
        </FieldPair>
      )}
      {draft.comes === 'on' && (
        <TextField label="The day on which it comes" type="date" value={draft.on} onChange={(on) => change({ on })} />
      )}
    </>
  );
}

interface PickProps {
  readonly label: string;
  readonly source: ComboSource;
  readonly chosen: ComboOption | null;
  readonly onChoose: (chosen: ComboOption | null) => void;
  readonly note?: ReactNode;
}

/** A field in which one thing is chosen; other words choose nothing. */
function Pick({ label, source, chosen, onChoose, note }: PickProps) {
  const [keyed, setKeyed] = useState('');
  return (
    <ComboField
      label={label}
      text={chosen?.label ?? keyed}
      onText={(text) => {
        setKeyed(text);
        if (chosen !== null) onChoose(null);
      }}
      onChoose={(option) => {
        setKeyed('');
        onChoose(option);
      }}
      source={source}
      note={chosen?.note ?? note ?? 'key a few letters of it, or press Down'}
    />
  );
}
