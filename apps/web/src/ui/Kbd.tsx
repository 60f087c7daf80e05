import type { ReactNode } from 'react';
import styles from './Kbd.module.css';

/** A key of the keyboard, as printed on it. */
export function Kbd({ children }: { readonly children: ReactNode }) {
  return <kbd className={styles.key}>{children}</kbd>;
}

export interface KeyHelp {
  readonly key: string;
  readonly does: string;
}

/** The keys that a screen understands, in one line above the thing they work on. A phone has no keys and does not show it. */
export function KeyLine({ keys }: { readonly keys: readonly KeyHelp[] }) {
  return (
    <ul className={styles.line} aria-label="Keys">
      {keys.map((help) => (
        <li key={help.key}>
          <Kbd>{help.key}</Kbd> {help.does}
        </li>
      ))}
    </ul>
  );
}
