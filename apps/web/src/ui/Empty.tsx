import type { ReactNode } from 'react';
import { Acts } from './Button.js';
import styles from './Empty.module.css';

export interface EmptyProps {
  readonly title: string;
  /** The first step, in words. */
  readonly children: ReactNode;
  readonly choices?: ReactNode;
}

/** Nothing here yet: says so and names the first step. The tag that is not tied on yet is drawn dashed. */
export function Empty({ title, children, choices }: EmptyProps) {
  return (
    <div className={styles.empty}>
      <h3>{title}</h3>
      <p>{children}</p>
      {choices !== undefined && choices !== null && <Acts>{choices}</Acts>}
    </div>
  );
}

/** What stands where an answer is still on its way. */
export function Waiting({ children }: { readonly children: ReactNode }) {
  return (
    <p className={styles.waiting} role="status">
      {children}
    </p>
  );
}
