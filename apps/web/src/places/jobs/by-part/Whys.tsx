import type { AskingCell } from '@corewright/contracts/by-part';
import { Code } from '../../../ui/Code.js';
import { Go } from '../../../ui/Go.js';
import { GoesBefore } from '../GoesBefore.js';
import styles from './ByPart.module.css';
import type { JobColumns, JobInColumn } from './job-columns.js';

type JobShown = JobInColumn['job'];

/** Jobs that go without, or wait, for the same reason. */
interface Together {
  readonly cell: AskingCell;
  readonly jobs: readonly JobShown[];
}

/** Why jobs go without, or wait; and the way to see what would be if one of them came first. */
export function Whys({ cells, columns }: { readonly cells: readonly AskingCell[]; readonly columns: JobColumns }) {
  const together = byReason(cells, columns);
  if (together.length === 0) return null;
  return (
    <ul className={styles.whys} aria-label="Why">
      {together.map(({ cell, jobs }) => (
        <li key={cell.lineId}>
          <b>
            <Codes jobs={jobs} /> {saysWhat(cell, jobs.length)}
          </b>
          {cell.late !== '' && <>: {cell.late}</>}
          {cell.elsewhere.map((each, index) => (
            <span key={`${each.job.id} ${each.words}`}>
              {index === 0 ? '. ' : '; '}
              <GoesBefore elsewhere={each} />
            </span>
          ))}
          {cell.elsewhere.some(({ how }) => how === 'goes to it first') && <Supposing jobs={jobs} />}
        </li>
      ))}
    </ul>
  );
}

function byReason(cells: readonly AskingCell[], columns: JobColumns): readonly Together[] {
  const reasons = new Map<string, { cell: AskingCell; jobs: JobShown[] }>();
  for (const cell of cells) {
    const job = columns.get(cell.jobId)?.job;
    if (job === undefined || (cell.elsewhere.length === 0 && cell.late === '')) continue;
    const words = cell.elsewhere.map((each) => `${each.job.id} ${each.words}`);
    const reason = [cell.state === 'lacking' ? 'lacking' : '', cell.late, ...words].join('\n');
    const same = reasons.get(reason);
    if (same === undefined) reasons.set(reason, { cell, jobs: [job] });
    else if (!same.jobs.includes(job)) same.jobs.push(job);
  }
  return [...reasons.values()];
}

function saysWhat({ state }: AskingCell, jobs: number): string {
  if (state === 'lacking') return jobs === 1 ? 'goes without' : 'go without';
  return jobs === 1 ? 'waits' : 'wait';
}

function Codes({ jobs }: { readonly jobs: readonly JobShown[] }) {
  return (
    <>
      {jobs.map((job, index) => (
        <span key={job.id}>
          {index > 0 && ', '}
          <Code code={job.code} />
        </span>
      ))}
    </>
  );
}

function Supposing({ jobs }: { readonly jobs: readonly JobShown[] }) {
  return (
    <>
      .{' '}
      {jobs.map((job) => (
        <span key={job.id}>
          <Go href={`/jobs/what-if?suppose=first.${job.id}`}>
            What if <Code code={job.code} /> came first?
          </Go>{' '}
        </span>
      ))}
    </>
  );
}
