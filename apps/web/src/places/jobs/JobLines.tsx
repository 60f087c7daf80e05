import type { CoveredLine } from '@corewright/contracts/coverage';
import type { JobCard, Operation } from '@corewright/contracts/jobs';
import { useState } from 'react';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { CoverageBar } from '../../ui/CoverageBar.js';
import { CoverageWord } from '../../ui/CoverageWord.js';
import { sortShares } from '../../ui/coverage-states.js';
import { Empty } from '../../ui/Empty.js';
import { Fold } from '../../ui/Fold.js';
import { sayMinutes } from '../../ui/say-when.js';
import { AddLineForm } from './AddLineForm.js';
import { barOfJob, isFinished, isYetToCome } from './cover.js';
import { JobLine } from './JobLine.js';
import styles from './JobLines.module.css';
import { OperationWork } from './OperationWork.js';
import { pickListOf } from './pick-list/queries.js';
import { ReserveForm } from './ReserveForm.js';
import { StopPanel } from './StopPanel.js';
import { toReserve } from './to-reserve.js';

const CLOSED: readonly string[] = ['done', 'released', 'called off'];

/** A job's lines by operation, with what stops the job before them. */
export function JobLines({ job }: { readonly job: JobCard }) {
  const lines = job.coverage.lines;
  const [isAdding, setAdding] = useState(false);
  const bar = sortShares(barOfJob(lines));
  return (
    <section aria-labelledby="lines" className={styles.lines}>
      <div className={styles.head}>
        <h2 id="lines">Lines</h2>
        <span className="quiet">{lines.length} lines, each counted by its weakest cover</span>
      </div>
      {lines.length > 0 && (
        <>
          <CoverageBar shares={bar} tall />
          <p className={styles.sums}>
            {bar.map((share) => (
              <CoverageWord key={share.state} state={share.state} quantity={share.quantity} />
            ))}
          </p>
        </>
      )}
      <ActsOnLines job={job} />
      <StopPanel jobId={job.id} lines={lines.filter((line) => line.stops)} operations={job.operations} />
      {lines.length === 0 && (
        <Empty title="No lines yet">
          The unit’s type brings lines when it is known. Until then add what the job needs, one line for each part.
        </Empty>
      )}
      {job.operations.map((operation) => (
        <OperationLines
          key={operation.id}
          job={job}
          operation={operation}
          lines={lines.filter((line) => line.operationId === operation.id)}
        />
      ))}
      <div className={styles.add}>
        {isAdding ? (
          <AddLineForm job={job} onClose={() => setAdding(false)} />
        ) : (
          job.operations.length > 0 && <Button onPress={() => setAdding(true)}>Add a line</Button>
        )}
      </div>
    </section>
  );
}

/** What is done about all lines at once: fetch what lies in stores, and reserve everything that the job counts on. */
function ActsOnLines({ job }: { readonly job: JobCard }) {
  const [isReserving, setReserving] = useState(false);
  const lines = job.coverage.lines.flatMap(toReserve);
  if (job.coverage.lines.length === 0 || CLOSED.includes(job.state)) return null;
  const words = `Reserve what ${lines.length === 1 ? '1 line counts' : `${new Set(lines.map(({ lineId }) => lineId)).size} lines count`} on`;
  if (isReserving && lines.length > 0)
    return <ReserveForm jobId={job.id} state={job.state} lines={lines} act={words} onClose={() => setReserving(false)} />;
  return (
    <Acts>
      <ButtonLink href={pickListOf([job.id])}>Pick list</ButtonLink>
      {lines.length > 0 && <Button onPress={() => setReserving(true)}>{words} …</Button>}
    </Acts>
  );
}

interface OperationLinesProps {
  readonly job: JobCard;
  readonly operation: Operation;
  readonly lines: readonly CoveredLine[];
}

/** Narrower than this a finished operation is folded away at first. */
const PHONE = '(max-width: 719px)';

function OperationLines({ job, operation, lines }: OperationLinesProps) {
  const isDone = operation.minutesLeft === 0 && lines.every(isFinished);
  const [isFolded] = useState(() => isDone && window.matchMedia(PHONE).matches);
  const rows = (
    <>
      <OperationWork jobId={job.id} operation={operation} />
      {lines.length === 0 ? (
        <p className={styles.nothing}>No parts are needed here.</p>
      ) : (
        <ol>
          {[...lines].sort(worstFirst).map((line) => (
            <JobLine key={line.id} jobId={job.id} state={job.state} line={line} />
          ))}
        </ol>
      )}
    </>
  );
  const title = (
    <>
      <span className={styles.number}>{operation.number}</span>
      <span className={styles.name}>{operation.name}</span>
      <span className={styles.work}>{isDone ? 'done' : workInWords(operation, lines)}</span>
    </>
  );
  return (
    <section className={styles.operation} aria-label={`Operation ${operation.number}, ${operation.name}`}>
      {isDone ? (
        <Fold summary={<span className={styles.title}>{title}</span>} isOpenAtFirst={!isFolded}>
          {rows}
        </Fold>
      ) : (
        <>
          <h3 className={styles.title}>{title}</h3>
          {rows}
        </>
      )}
    </section>
  );
}

function workInWords(operation: Operation, lines: readonly CoveredLine[]): string {
  const work =
    operation.minutesLeft === operation.minutesPlanned
      ? sayMinutes(operation.minutesLeft)
      : `${sayMinutes(operation.minutesLeft)} left of ${sayMinutes(operation.minutesPlanned)}`;
  const waits = lines.filter((line) => line.waived === null && isYetToCome(line.state)).map((line) => line.lineNo);
  if (waits.length === 0) return work;
  return `${work}; waits for ${waits.length === 1 ? 'line' : 'lines'} ${waits.join(', ')}`;
}

/** What stops the job first, then by line number. */
function worstFirst(one: CoveredLine, other: CoveredLine): number {
  return Number(other.stops) - Number(one.stops) || one.lineNo - other.lineNo;
}
