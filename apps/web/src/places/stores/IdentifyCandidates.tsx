import type { KnownType } from '@corewright/contracts/identify';
import type { UnitThing } from '@corewright/contracts/stores';
import type { Reading } from '@corewright/identify/known-type';
import type { Candidate, Ranking } from '@corewright/identify/rank-types';
import { type ReactNode, useState } from 'react';
import type * as z from 'zod';
import { newKey } from '../../api/uuid.js';
import { Acts, Button } from '../../ui/Button.js';
import { Empty } from '../../ui/Empty.js';
import { Fold } from '../../ui/Fold.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { WhyForm } from '../../ui/WhyForm.js';
import styles from './Identify.module.css';
import { useIdentification } from './identify-queries.js';
import { SignPictures } from './SignPictures.js';

export interface IdentifyCandidatesProps {
  readonly unit: z.infer<typeof UnitThing>;
  readonly types: readonly KnownType[];
  readonly ranking: Ranking;
  readonly reading: Reading;
  readonly maySay: boolean;
  readonly onSaid: () => void;
}

/** Which types it may be, the likeliest first, with reasons; what is contradicted last. A person says which. */
export function IdentifyCandidates({ unit, types, ranking, reading, maySay, onSaid }: IdentifyCandidatesProps) {
  const { candidates, open, ruledOut } = ranking;
  const row = (candidate: Candidate, isRuledOut = false) => (
    <CandidateShown
      key={candidate.typeId}
      candidate={candidate}
      isRuledOut={isRuledOut}
      type={types.find(({ id }) => id === candidate.typeId)}
      say={maySay ? <Say unit={unit} candidate={candidate} isRuledOut={isRuledOut} reading={reading} onSaid={onSaid} /> : null}
    />
  );
  return (
    <div>
      <Section title="It may be" aside={candidates.length === 0 ? undefined : 'the likeliest first'}>
        {candidates.length === 0 ? (
          <Empty title="Nothing yet">
            Nothing that is keyed speaks for a type in the books. Read the serial, the casting numbers, count the teeth.
          </Empty>
        ) : (
          <ul className={styles.candidates}>{candidates.map((candidate) => row(candidate))}</ul>
        )}
      </Section>
      {ruledOut.length > 0 && (
        <Section title="Contradicted" aside="if that was read right, it is none of these">
          <ul className={styles.candidates}>{ruledOut.map((candidate) => row(candidate, true))}</ul>
        </Section>
      )}
      {open.length > 0 && (
        <Fold summary={`${open.length} of which nothing that was read says anything`}>
          <ul className={styles.candidates}>{open.map((candidate) => row(candidate))}</ul>
        </Fold>
      )}
      {maySay && unit.unitType !== null && <TakeBack unit={unit} reading={reading} onSaid={onSaid} />}
      <p className="quiet">
        Points are a rule of ours: 8 for a serial within its range, 1, 3 or 6 for a mark, feature or count by its weight, 4 for
        the same teeth, 2 for the ratio and the maker; what is otherwise takes as many away. What was not read counts for nothing.
      </p>
    </div>
  );
}

interface CandidateShownProps {
  readonly candidate: Candidate;
  readonly isRuledOut: boolean;
  readonly type: KnownType | undefined;
  readonly say: ReactNode;
}

function CandidateShown({ candidate, isRuledOut, type, say }: CandidateShownProps) {
  const { name, points, speaksFor, speaksAgainst } = candidate;
  return (
    <li className={styles.candidate}>
      <h3 className={styles.name}>
        {name}
        {!isRuledOut && speaksFor.length + speaksAgainst.length > 0 && (
          <span className="quiet">, {points === 1 ? '1 point' : `${points} points`}</span>
        )}
      </h3>
      {speaksFor.length + speaksAgainst.length > 0 && (
        <ul className={styles.reasons}>
          {speaksAgainst.map((sentence) => (
            <li key={sentence} className={styles.against}>
              <b>Against:</b> {sentence}
            </li>
          ))}
          {speaksFor.map((sentence) => (
            <li key={sentence}>For: {sentence}</li>
          ))}
        </ul>
      )}
      {type?.signs
        .filter(({ kind }) => kind === 'stamp' || kind === 'casting')
        .map(({ id, kind, pattern, position, pictures }) => (
          <SignPictures
            key={id}
            what={`${kind} ${pattern}${position === '' ? '' : `, ${position}`}, ${name}`}
            pictures={pictures}
          />
        ))}
      {say}
    </li>
  );
}

interface SayProps extends Pick<IdentifyCandidatesProps, 'unit' | 'reading' | 'onSaid'> {
  readonly candidate: Candidate;
  readonly isRuledOut: boolean;
}

/** One press where nothing stands against it; a reason where something does. */
function Say({ unit, candidate, isRuledOut, reading, onSaid }: SayProps) {
  const [asksWhy, setAsksWhy] = useState(false);
  const said = useIdentification(unit, onSaid);
  const needsWhy = isRuledOut || (unit.unitType !== null && unit.unitType.id !== candidate.typeId);
  const send = (why: string) => said.mutate({ id: newKey(), unitTypeId: candidate.typeId, reading: asSent(reading), why });
  if (asksWhy)
    return (
      <div className={styles.why}>
        <WhyForm
          label={`It is ${candidate.name}`}
          question={isRuledOut ? 'Why it is one all the same' : `Why it is no ${unit.unitType?.name ?? ''}`}
          note="it stays on the record with your name"
          act={`It is ${candidate.name}`}
          failed="Not written down"
          sending={said}
          onWhy={send}
          onClose={() => setAsksWhy(false)}
        />
      </div>
    );
  return (
    <>
      {said.isError && <Failure error={said.error} word="Not written down" kept="What you keyed is kept." />}
      <Acts>
        <Button
          look={isRuledOut ? 'plain' : 'usual'}
          isPending={said.isPending}
          onPress={() => (needsWhy ? setAsksWhy(true) : send(''))}
        >
          {isRuledOut ? `It is ${candidate.name} all the same` : `It is ${candidate.name}`}
        </Button>
      </Acts>
    </>
  );
}

function TakeBack({ unit, reading, onSaid }: Pick<IdentifyCandidatesProps, 'unit' | 'reading' | 'onSaid'>) {
  const [asksWhy, setAsksWhy] = useState(false);
  const said = useIdentification(unit, onSaid);
  if (!asksWhy)
    return (
      <Acts>
        <Button onPress={() => setAsksWhy(true)}>Nobody knows after all</Button>
      </Acts>
    );
  return (
    <WhyForm
      label="Nobody knows after all"
      question={`Why it is no ${unit.unitType?.name ?? ''}`}
      note="it stays on the record with your name"
      act="Nobody knows after all"
      failed="Not written down"
      sending={said}
      onWhy={(why) => said.mutate({ id: newKey(), unitTypeId: null, reading: asSent(reading), why })}
      onClose={() => setAsksWhy(false)}
    />
  );
}

/** The reading as it is written down. */
function asSent({ marks, castings, ratio, ...rest }: Reading) {
  return {
    ...rest,
    marks: [...marks],
    castings: [...castings],
    ratio: ratio !== null && 'meshes' in ratio ? { meshes: [...ratio.meshes] } : ratio,
  };
}
