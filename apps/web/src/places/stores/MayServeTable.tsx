import type { MayServe, PartNamed, RelationShown } from '@corewright/contracts/relations';
import { Button } from '../../ui/Button.js';
import { CautionLine } from '../../ui/CautionLine.js';
import { Fold } from '../../ui/Fold.js';
import { Go } from '../../ui/Go.js';
import { dayOf, sayDay } from '../../ui/say-when.js';
import { type Column, Table } from '../../ui/Table.js';
import styles from './PartRelations.module.css';

export type CandidateRow = MayServe['candidates'][number];

const CANDIDATES: readonly Column<CandidateRow>[] = [
  { key: 'part', head: 'part', isLead: true, width: '22%', cell: (row) => <PartLink part={row.part} /> },
  { key: 'way', head: 'why it will serve', isWide: true, cell: (row) => <Way row={row} /> },
  { key: 'evidence', head: 'evidence, accepted by', isWide: true, cell: (row) => <Steps path={row.path} /> },
  { key: 'free', head: 'free', isNumeric: true, width: '84px', cell: (row) => amountOf(row) },
  {
    key: 'where',
    head: 'where',
    width: '16%',
    cell: (row) => <Where row={row} />,
  },
];

export interface MayServeTableProps {
  readonly answer: MayServe;
  /** offers each part to be chosen; left out where there is nothing to choose for */
  readonly onChoose?: (row: CandidateRow) => void;
}

/** The parts that may be fitted in place of another, and those that were looked at and refused. */
export function MayServeTable({ answer, onChoose }: MayServeTableProps) {
  const others = answer.candidates.filter((candidate) => candidate.as !== 'itself');
  return (
    <>
      {others.length === 0 ? (
        <p className="quiet">No other part is on the record as one that will serve for it.</p>
      ) : (
        <>
          <Table
            caption="Parts that will serve in place of this one"
            columns={onChoose === undefined ? CANDIDATES : [...CANDIDATES, chooser(onChoose)]}
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

function chooser(onChoose: (row: CandidateRow) => void): Column<CandidateRow> {
  return {
    key: 'choose',
    head: 'choose',
    width: '112px',
    cell: (row) => (
      <Button onPress={() => onChoose(row)}>
        Choose<span className="hidden"> {row.part.number}</span>
      </Button>
    ),
  };
}

function PartLink({ part }: { readonly part: PartNamed }) {
  return (
    <Go href={`/stores/parts/${part.id}`} className={styles.part}>
      <span className="pn">{part.number}</span> {part.name}
    </Go>
  );
}

function Where({ row }: { readonly row: CandidateRow }) {
  return (
    <div className={styles.steps}>
      {row.places === '' ? <span className="quiet">none held</span> : <span>{row.places}</span>}
      {row.declined.map((words) => (
        <span key={words} className={styles.declined}>
          {words}
        </span>
      ))}
    </div>
  );
}

function Way({ row }: { readonly row: CandidateRow }) {
  return (
    <div className={styles.steps}>
      <span>{row.words}</span>
      {row.path.map(
        (step) =>
          step.doubt !== '' && (
            <span key={step.id} className={styles.doubt}>
              <b>They differ.</b> {step.doubt}
            </span>
          ),
      )}
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
