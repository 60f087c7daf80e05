import type { KnownType } from '@corewright/contracts/identify';
import type { UnitThing } from '@corewright/contracts/stores';
import { questionsFor } from '@corewright/identify/questions';
import { rankTypes } from '@corewright/identify/rank-types';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type * as z from 'zod';
import { useKeepsBooks } from '../../api/session.js';
import { sayCode } from '../../scan/acts.js';
import { ButtonLink } from '../../ui/Button.js';
import { Waiting } from '../../ui/Empty.js';
import { Failure } from '../../ui/Problem.js';
import { PageHead } from '../../ui/Section.js';
import { Photographs } from '../photographs/Photographs.js';
import styles from './Identify.module.css';
import { IdentifyCandidates } from './IdentifyCandidates.js';
import { knownTypesQuery } from './identify-queries.js';
import { thingQuery } from './queries.js';
import { ReadingForm } from './ReadingForm.js';
import { keyedFromMarks, readingOf } from './reading-keyed.js';

export interface IdentifyScreenProps {
  readonly thingId: string;
  readonly onSaid: () => void;
}

/** What is this unit? What was read on it, and which types it may be, with reasons. */
export function IdentifyScreen({ thingId, onSaid }: IdentifyScreenProps) {
  const thing = useQuery(thingQuery(thingId));
  const types = useQuery(knownTypesQuery);
  if (thing.isPending || types.isPending) return <Waiting>Fetching it …</Waiting>;
  if (thing.data === undefined || types.data === undefined)
    return <Failure error={thing.error ?? types.error} word="Not shown" />;
  if (thing.data.kind !== 'unit') return <p role="status">Only a unit is identified so. This is a {thing.data.kind}.</p>;
  return <Identify unit={thing.data} types={types.data.types} onSaid={onSaid} />;
}

interface IdentifyProps {
  readonly unit: z.infer<typeof UnitThing>;
  readonly types: readonly KnownType[];
  readonly onSaid: () => void;
}

function Identify({ unit, types, onSaid }: IdentifyProps) {
  const [keyed, setKeyed] = useState(() => keyedFromMarks(unit.marks));
  const maySay = useKeepsBooks();
  const reading = readingOf(keyed);
  const ranking = rankTypes(types, reading);
  return (
    <>
      <PageHead
        title="What is it?"
        note={`${sayCode(unit.code)}, ${unit.unitType?.name ?? (unit.words || 'not yet identified')}${unit.marks === '' ? '' : `; marks ${unit.marks}`}`}
        acts={<ButtonLink href={`/stores/things/${unit.id}`}>Its page</ButtonLink>}
      />
      <Photographs pictures={unit.pictures} subject={unit.name} subjectIds={[unit.id]} />
      <div className={styles.two}>
        <ReadingForm
          keyed={keyed}
          questions={questionsFor(types, ranking, reading)}
          types={types}
          onKeyed={(change) => setKeyed((before) => ({ ...before, ...change }))}
        />
        <IdentifyCandidates unit={unit} types={types} ranking={ranking} reading={reading} maySay={maySay} onSaid={onSaid} />
      </div>
    </>
  );
}
