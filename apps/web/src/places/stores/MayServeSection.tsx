import type { PartPage } from '@corewright/contracts/catalogue';
import type { MayServe, PartNamed, RelationShown, Successor } from '@corewright/contracts/relations';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { keepsBooks, meQuery } from '../../api/session.js';
import { Button } from '../../ui/Button.js';
import { CautionLine } from '../../ui/CautionLine.js';
import { Waiting } from '../../ui/Empty.js';
import { Fold } from '../../ui/Fold.js';
import { Go } from '../../ui/Go.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { dayOf, sayDay } from '../../ui/say-when.js';
import { type Column, Table } from '../../ui/Table.js';
import styles from './PartRelations.module.css';
import { mayServeQuery } from './queries.js';
import { RecordRelationForm } from './RecordRelationForm.js';
import { RelationsOnRecord } from './RelationsOnRecord.js';

type CandidateRow = MayServe['candidates'][number];

const CANDIDATES: readonly Column<CandidateRow>[] = [
  { key: 'part', head: 'part', isLead: true, width: '22%', cell: (row) => <PartLink part={row.part} /> },
  { key: 'way', head: 'why it will serve', cell: (row) => <Way row={row} /> },
  { key: 'evidence', head: 'evidence, accepted by', cell: (row) => <Steps path={row.path} /> },
  { key: 'free', head: 'free', isNumeric: true, width: '84px', cell: (row) => amountOf(row) },
  {
    key: 'where',
    head: 'where',
    width: '16%',
    cell: (row) => (row.places === '' ? <span className="quiet">none held</span> : row.places),
  },
];

/** What may be fitted in place of a part: by which way, on what evidence, and what of it is in stores. */
export function MayServeSection({ part }: { readonly part: PartPage }) {
  const answer = useQuery(mayServeQuery(part.id));
  const me = useQuery(meQuery);
  const [isRecording, setRecording] = useState(false);
  const mayChange = keepsBooks(me.data);
  return (
    <Section title="What else will serve" aside={asideOf(answer.data)}>
      {answer.isPending && <Waiting>Looking at what will serve …</Waiting>}
      {answer.isError && answer.data === undefined && (
        <Failure
          error={answer.error}
          word="Not shown"
          choices={<Button onPress={() => void answer.refetch()}>Try again</Button>}
        />
      )}
      {answer.data !== undefined && <Answer answer={answer.data} />}
      {part.relations.length > 0 && <RelationsOnRecord relations={part.relations} mayWithdraw={mayChange} />}
      {mayChange && (
        <div className={styles.acts}>
          {isRecording ? (
            <RecordRelationForm part={part} onClose={() => setRecording(false)} />
          ) : (
            <Button onPress={() => setRecording(true)}>Record a relation</Button>
          )}
        </div>
      )}
    </Section>
  );
}

function Answer({ answer }: { readonly answer: MayServe }) {
  const others = answer.candidates.filter((candidate) => candidate.as !== 'itself');
  return (
    <>
      {others.length === 0 ? (
        <p className="quiet">No other part is on the record as one that will serve for it.</p>
      ) : (
        <>
          <Table
            caption="Parts that will serve in place of this one"
            columns={CANDIDATES}
            rows={others}
            rowKey={(row) => row.part.id}
          />
          <CautionLine>
            What stands here is what somebody accepted on the evidence beside it. Whether it may be fitted is decided by the
            maker’s manual, local codes and qualified people.
          </CautionLine>
        </>
      )}
      {!answer.complete && (
        <p className="quiet">More hangs together with this part than was looked at: only the nearest of it is shown.</p>
      )}
      {answer.refused.length > 0 && (
        <Fold
          summary={
            answer.refused.length === 1
              ? '1 part was looked at and refused'
              : `${answer.refused.length} parts were looked at and refused`
          }
        >
          <ul className={styles.refused}>
            {answer.refused.map((refused) => (
              <li key={refused.part.id}>
                <PartLink part={refused.part} /> {refused.words}
              </li>
            ))}
          </ul>
        </Fold>
      )}
    </>
  );
}

/** Above all else on the page of an old number: what it became, and the way there. */
export function Superseded({ successor }: { readonly successor: Successor }) {
  return (
    <div className={styles.superseded} role="note">
      <p>
        <b>Superseded.</b> {successor.words}
      </p>
      {successor.current.map((part) => (
        <Go key={part.id} href={`/stores/parts/${part.id}`}>
          To {part.number}, {part.name}
        </Go>
      ))}
    </div>
  );
}

function PartLink({ part }: { readonly part: PartNamed }) {
  return (
    <Go href={`/stores/parts/${part.id}`} className={styles.part}>
      <span className="pn">{part.number}</span> {part.name}
    </Go>
  );
}

function Way({ row }: { readonly row: CandidateRow }) {
  return (
    <div className={styles.steps}>
      <span>{row.words}</span>
      {row.conditions.map((condition) => (
        <span key={condition} className={styles.conditions}>
          {condition}
        </span>
      ))}
    </div>
  );
}

function Steps({ path }: { readonly path: readonly RelationShown[] }) {
  return (
    <div className={styles.steps}>
      {path.map((step) => (
        <span key={step.id}>
          {step.evidence.kind}: {step.evidence.words}{' '}
          <span className="quiet">
            {step.acceptedBy}, {sayDay(dayOf(step.acceptedAt))}
          </span>
        </span>
      ))}
    </div>
  );
}

function amountOf(row: CandidateRow): string {
  return row.unitOfMeasure === 'each' ? row.free : `${row.free} ${row.unitOfMeasure}`;
}

function asideOf(answer: MayServe | undefined): string | undefined {
  if (answer === undefined) return undefined;
  const count = answer.candidates.length - 1;
  return count === 1 ? '1 other part' : `${count === 0 ? 'no' : count} other parts`;
}
