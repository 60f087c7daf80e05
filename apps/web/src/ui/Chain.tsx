import type { ReactNode } from 'react';
import styles from './Chain.module.css';
import { classNames } from './class-names.js';

export interface ChainLink {
  readonly id: string;
  readonly words: ReactNode;
  /** An assumption is drawn dashed, and so is the line that hangs from it. */
  readonly isAssumed: boolean;
}

/** What decides a date, step after step, each numbered. */
export function Chain({ links }: { readonly links: readonly ChainLink[] }) {
  return (
    <ol className={styles.chain}>
      {links.map((link) => (
        <li key={link.id} className={classNames(link.isAssumed && styles.assumed)}>
          {link.isAssumed && <span className="hidden">Assumed: </span>}
          {link.words}
        </li>
      ))}
    </ol>
  );
}
