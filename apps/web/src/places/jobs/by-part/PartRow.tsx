import type { AskingCell, PartOnBoard } from '@corewright/contracts/by-part';
import type { CSSProperties } from 'react';
import { Code } from '../../../ui/Code.js';
import { CoverageMark } from '../../../ui/CoverageMark.js';
import { Critical } from '../../../ui/Critical.js';
import { COVERAGE_WORDS, sortShares } from '../../../ui/coverage-states.js';
import { Go } from '../../../ui/Go.js';
import { barOf } from '../cover.js';
import styles from './ByPart.module.css';
import type { JobColumns, JobInColumn } from './job-columns.js';
import { Whys } from './Whys.js';

export interface PartRowProps {
  readonly row: PartOnBoard;
  readonly columns: JobColumns;
}

/** One part: what there is of it, each job that asks for it, and who has what another could use. */
export function PartRow({ row, columns }: PartRowProps) {
  const { part, troubles, cells } = row;
  const first = new Set(
    cells.flatMap(({ elsewhere }) => elsewhere.filter(({ how }) => how === 'goes to it first').map(({ job }) => job.id)),
  );
  return (
    <article className={styles.row} aria-label={`${part.number} ${part.name}`}>
      <div className={styles.part}>
        <span className="pn">{part.number}</span>{' '}
        <Go className={styles.name} href={`/stores/parts/${part.id}`}>
          {part.name}
        </Go>
        <span className={styles.troubles}>{troubles.join('; ')}</span>
      </div>
      <There row={row} />
      <span className={styles.strings} aria-hidden="true" />
      <ul className={styles.cells} aria-label="Jobs that ask for it">
        {[...jobsOf(cells)].map(([jobId, ofJob]) => (
          <JobCell key={jobId} cells={ofJob} at={columns.get(jobId)} isServedFirst={first.has(jobId)} />
        ))}
      </ul>
      <Whys cells={cells} columns={columns} />
    </article>
  );
}

function jobsOf(cells: readonly AskingCell[]): ReadonlyMap<string, readonly AskingCell[]> {
  const jobs = new Map<string, AskingCell[]>();
  for (const cell of cells) jobs.set(cell.jobId, [...(jobs.get(cell.jobId) ?? []), cell]);
  return jobs;
}

/** What there is, without what there is not. */
function There({ row: { part, there } }: { readonly row: PartOnBoard }) {
  const unit = part.unitOfMeasure === 'each' ? '' : ` ${part.unitOfMeasure}`;
  const said = [
    { key: 'free', words: `${there.free}${unit} free` },
    { key: 'promised', words: `${there.promised}${unit} promised` },
    { key: 'coming', words: `${there.coming}${unit} coming` },
    { key: 'inCores', words: `${there.inCores}${unit} in cores` },
    { key: 'beside', words: `${there.beside}${unit} of others that serve` },
  ].filter(({ words }) => !words.startsWith('0 ') && !words.startsWith(`0${unit} `));
  return (
    <p className={styles.there}>
      <span className={styles.thereIs}>There is </span>
      {said.length === 0 ? <b>none known anywhere</b> : said.map(({ key, words }) => <span key={key}>{words}</span>)}
    </p>
  );
}

interface JobCellProps {
  readonly cells: readonly AskingCell[];
  readonly at: JobInColumn | undefined;
  readonly isServedFirst: boolean;
}

function JobCell({ cells, at, isServedFirst }: JobCellProps) {
  if (at === undefined) return null;
  return (
    <li className={styles.cell} style={{ '--col': at.column } as CSSProperties}>
      <span className={styles.who}>
        <Code code={at.job.code} /> {at.job.name}
      </span>
      {isServedFirst && <span className={styles.first}>served first</span>}
      {cells.map((cell) => (
        <Go key={cell.lineId} className={styles.asks} href={`/jobs/${cell.jobId}#line-${cell.lineNo}`}>
          <span className={styles.need}>
            <span className={styles.line}>line {cell.lineNo}, </span>needs {cell.needed}
          </span>
          {sortShares(barOf(cell)).map(({ state, quantity }) => (
            <span key={state} className={styles.share} data-cov={state}>
              <CoverageMark state={state} />
              <b>
                {quantity} {COVERAGE_WORDS[state]}
              </b>
            </span>
          ))}
          {cell.critical && <Critical stops={cell.stops} />}
        </Go>
      ))}
    </li>
  );
}
