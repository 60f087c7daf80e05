import type { CoveredLine } from '@corewright/contracts/coverage';
import type { Operation } from '@corewright/contracts/jobs';
import { Acts, ButtonLink } from '../../ui/Button.js';
import { CoverageBar } from '../../ui/CoverageBar.js';
import { CoverageWord } from '../../ui/CoverageWord.js';
import { Critical } from '../../ui/Critical.js';
import { barOf, markOf } from './cover.js';
import { ElsewhereOfLine } from './ElsewhereOfLine.js';
import styles from './JobLines.module.css';

export interface StopPanelProps {
  /** The lines that stop the job: critical and lacking. */
  readonly lines: readonly CoveredLine[];
  readonly operations: readonly Operation[];
}

/** What stops the job, with what was looked for and where. */
export function StopPanel({ lines, operations }: StopPanelProps) {
  if (lines.length === 0) return null;
  return (
    <div className={styles.stop}>
      <h3>{titleFor(lines.length)}</h3>
      {lines.map((line) => (
        <article key={line.id} aria-label={`Line ${line.lineNo}, ${line.part.name}`}>
          <span className={styles.stopNo}>{line.lineNo}</span>
          <div>
            <h4>{line.part.name}</h4>
            <p>
              <span className="pn">{line.part.number}</span> <Critical stops />
            </p>
            <span className={styles.stopBar}>
              <CoverageBar shares={barOf(line)} />
            </span>
            <p className={styles.covers}>
              {line.shares.toReversed().map((share) => (
                <CoverageWord
                  key={`${share.state}${share.on?.id ?? ''}${share.receiptId ?? ''}`}
                  state={markOf(share.state)}
                  quantity={share.quantity}
                />
              ))}
              <span>
                need {line.needed}, operation {operations.find((operation) => operation.id === line.operationId)?.number}
              </span>
            </p>
          </div>
          <div>
            <p className={styles.subhead}>Looked for</p>
            <ul className={styles.list}>
              {line.looked.map((words) => (
                <li key={words}>{words}</li>
              ))}
            </ul>
            <ElsewhereOfLine line={line} />
          </div>
          <div className={styles.stopActs}>
            <Acts>
              <ButtonLink href={`/stores/parts/${line.part.id}`}>Look at the part</ButtonLink>
            </Acts>
          </div>
        </article>
      ))}
    </div>
  );
}

const NUMBERS = ['', 'This one stops', 'These two stop', 'These three stop', 'These four stop'];

function titleFor(count: number): string {
  return `${NUMBERS[count] ?? `These ${count} stop`} the job`;
}
