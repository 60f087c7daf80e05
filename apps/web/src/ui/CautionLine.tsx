import type { ReactNode } from 'react';
import styles from './CautionLine.module.css';

/** The usual caution in one line. It defers to the maker's manual, local codes and qualified people, and never says that something is safe. */
export function CautionLine({ children }: { readonly children: ReactNode }) {
  return (
    <p className={styles.line} role="note">
      <b>Caution</b>
      <span>{children}</span>
    </p>
  );
}
