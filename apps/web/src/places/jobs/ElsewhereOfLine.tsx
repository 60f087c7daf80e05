import type { CoveredLine } from '@corewright/contracts/coverage';
import { Code } from '../../ui/Code.js';
import { Go } from '../../ui/Go.js';
import styles from './JobLines.module.css';

/** Which other jobs have what a line could use, or are served with it first, and why. */
export function ElsewhereOfLine({ line }: { readonly line: CoveredLine }) {
  if (line.elsewhere.length === 0) return null;
  return (
    <div>
      <p className={styles.subhead}>Other jobs have</p>
      <ul className={styles.list}>
        {line.elsewhere.map(({ job, thing, quantity, how, words }) => (
          <li key={`${job.id} ${thing?.id ?? words} ${how}`}>
            {quantity}:{' '}
            <Go href={`/jobs/${job.id}`}>
              <Code code={job.code} />
            </Go>{' '}
            {job.name}. {words.charAt(0).toUpperCase()}
            {words.slice(1)}.
          </li>
        ))}
      </ul>
    </div>
  );
}
