import type { ReactNode } from 'react';
import styles from './Timeline.module.css';

export interface TimelineEntry {
  readonly id: string;
  /** When, as people say it: "10.39", "14 Oct". */
  readonly when: string;
  readonly words: ReactNode;
  /** True for what was taken back since: it stays on the record, struck through. */
  readonly isReversed?: boolean;
}

/** What happened, newest first, on a line down the side. */
export function Timeline({ label, entries }: { readonly label: string; readonly entries: readonly TimelineEntry[] }) {
  return (
    <ol className={styles.line} aria-label={label}>
      {entries.map((entry) => (
        <li key={entry.id}>
          <span className={styles.when}>{entry.when}</span>
          <span>{entry.isReversed === true ? <s>{entry.words}</s> : entry.words}</span>
        </li>
      ))}
    </ol>
  );
}
