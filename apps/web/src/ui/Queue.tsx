import type { ReactNode } from 'react';
import { classNames } from './class-names.js';
import styles from './Queue.module.css';

export interface QueueEntry {
  readonly id: string;
  readonly when: string;
  readonly words: ReactNode;
  /** "going out", "waits", "needs you". */
  readonly state: ReactNode;
  readonly isBad?: boolean;
}

/** Things in order that wait for something, each with its state in words. */
export function Queue({ label, entries }: { readonly label: string; readonly entries: readonly QueueEntry[] }) {
  return (
    <ol className={styles.queue} aria-label={label}>
      {entries.map((entry, index) => (
        <li key={entry.id}>
          <span className={styles.count}>{index + 1}</span>
          <span className={styles.when}>{entry.when}</span>
          <span>{entry.words}</span>
          <span className={classNames(styles.state, entry.isBad === true && styles.bad)}>{entry.state}</span>
        </li>
      ))}
    </ol>
  );
}
