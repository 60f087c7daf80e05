import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Acts, Button } from '../../../ui/Button.js';
import { Code } from '../../../ui/Code.js';
import { ComboField } from '../../../ui/ComboField.js';
import { Fold } from '../../../ui/Fold.js';
import { FieldPair, Form } from '../../../ui/Form.js';
import { QuantityField } from '../../../ui/QuantityField.js';
import { RadioRow } from '../../../ui/RadioRow.js';
import { SelectField } from '../../../ui/SelectField.js';
import { TextField } from '../../../ui/TextField.js';
import { findParts, findUnitTypes, NOT_YET_IDENTIFIED } from '../../goods-in/queries.js';
import { TakePhotographs } from '../../photographs/TakePhotographs.js';
import { CodesAlong } from './CodesAlong.js';
import { customersQuery } from './queries.js';
import { isManyFor, type RowKeyed, whatIsWrong } from './row-keyed.js';
import type { OntoJob } from './shelf-queue.js';

export interface RowFormProps {
  readonly row: RowKeyed;
  readonly onKey: (row: RowKeyed) => void;
  /** it is taken onto this job at once */
  readonly job: OntoJob | null;
  readonly onNoJob: () => void;
  readonly onKeep: (sure: boolean) => void;
  /** leaves a row that is being put right */
  readonly onLeave: (() => void) | null;
}

const KINDS = [
  { value: 'lot', label: 'parts' },
  { value: 'unit', label: 'a unit' },
  { value: 'unsorted', label: 'odds and ends' },
] as const;

/** One thing on the shelf: a photograph, a word or a number, how many, its label. Enter keeps it and the next is in hand. */
export function RowForm({ row, onKey, job, onNoJob, onKeep, onLeave }: RowFormProps) {
  const [wasTried, setWasTried] = useState(false);
  const [isAsked, setAsked] = useState(false);
  const put = (more: Partial<RowKeyed>) => {
    setAsked(false);
    onKey({ ...row, ...more });
  };
  const wrong = wasTried ? whatIsWrong(row) : null;
  const keep = (sure: boolean) => {
    if (whatIsWrong(row) !== null) return setWasTried(true);
    if (isManyFor(row) && !sure) return setAsked(true);
    setWasTried(false);
    setAsked(false);
    onKeep(sure);
  };
  return (
    <Form label={row.version === null ? 'What is here' : 'Put it right'} onSubmit={() => keep(false)}>
      {job !== null && (
        <p>
          Goes straight onto <Code code={job.code} />, {job.name}.{' '}
          <Button look="plain" onPress={onNoJob}>
            Leave it on the shelf
          </Button>
        </p>
      )}
      <TakePhotographs subjectId={row.id} taken={0} />
      {row.version === null && (
        <RadioRow
          label="It is"
          value={row.kind}
          choices={row.code === '' ? KINDS : KINDS.filter(({ value }) => value === row.kind)}
          onChange={(kind) => put({ kind, referenceId: null, referenceName: '' })}
        />
      )}
      <WhatItIs row={row} put={put} error={wrong?.field === 'text' ? wrong.words : null} />
      {row.kind !== 'unit' && (
        <QuantityField
          label="How many"
          value={row.count}
          onChange={(count) => put({ count })}
          unit={row.kind === 'lot' ? 'empty for one' : 'empty where nobody counted'}
          error={wrong?.field === 'count' ? wrong.words : null}
        />
      )}
      {row.version === null && <CodesAlong row={row} onCode={(code) => put({ code })} />}
      <More row={row} put={put} />
      {isAsked && (
        <p role="alert">
          <b>{row.count} is a great many for one row.</b> If it is right, say so; else put the count right.
        </p>
      )}
      <Acts>
        {isAsked ? (
          <Button look="main" onPress={() => keep(true)}>
            It is {row.count}
          </Button>
        ) : (
          <Button look="main" type="submit">
            {row.version === null ? 'Next' : 'Keep it so'}
          </Button>
        )}
        {onLeave !== null && (
          <Button look="plain" onPress={onLeave}>
            Leave it
          </Button>
        )}
      </Acts>
    </Form>
  );
}

interface PartProps {
  readonly row: RowKeyed;
  readonly put: (more: Partial<RowKeyed>) => void;
}

/** A word or a number. A part or a type is offered for it, and never asked for. */
function WhatItIs({ row, put, error }: PartProps & { readonly error: string | null }) {
  const text = (typed: string) => put({ text: typed, referenceId: null, referenceName: '' });
  if (row.kind === 'unsorted')
    return <TextField label="What it is, or the number on it" value={row.text} onChange={text} error={error} maxLength={200} />;
  return (
    <ComboField
      key={row.kind}
      label="What it is, or the number on it"
      text={row.text}
      onText={text}
      onChoose={({ id, label, name }) =>
        id === NOT_YET_IDENTIFIED.id
          ? put({ referenceId: null, referenceName: '' })
          : put({ text: label, referenceId: id, referenceName: name ?? '' })
      }
      source={row.kind === 'lot' ? findParts : findUnitTypes}
      note={row.referenceId === null ? 'any word will do; it is named later' : `${row.referenceName} in the books`}
      error={error}
    />
  );
}

function More({ row, put }: PartProps) {
  const customers = useQuery(customersQuery).data ?? [];
  return (
    <Fold summary={row.ownerName === '' ? 'Whose, marks, a note' : `Property of ${row.ownerName}; marks, a note`}>
      <SelectField
        label="Whose it is"
        value={row.ownerName}
        choices={[{ value: '', label: 'ours' }, ...customers.map((name) => ({ value: name, label: name }))]}
        onChange={(ownerName) => put({ ownerName })}
      />
      <FieldPair>
        {row.kind !== 'unsorted' && (
          <TextField
            label="Marks on it"
            value={row.marks}
            onChange={(marks) => put({ marks })}
            note="? for what cannot be read"
            maxLength={200}
          />
        )}
        <TextField label="Note" value={row.note} onChange={(note) => put({ note })} maxLength={4000} />
      </FieldPair>
    </Fold>
  );
}
