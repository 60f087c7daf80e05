import { type ReactNode, useId, useState } from 'react';
import styles from './Fold.module.css';

export interface FoldProps {
  /** What the fold holds, in one line. */
  readonly summary: ReactNode;
  readonly children: ReactNode;
  /** Whether it is open at first; a person's choice then stays. */
  readonly isOpenAtFirst?: boolean;
}

/** Something that can be folded away. On paper it is always open. */
export function Fold({ summary, children, isOpenAtFirst = false }: FoldProps) {
  const id = useId();
  const [isOpen, setOpen] = useState(isOpenAtFirst);
  return (
    <div className={styles.fold}>
      <button type="button" className={styles.handle} aria-expanded={isOpen} aria-controls={id} onClick={() => setOpen(!isOpen)}>
        {summary}
      </button>
      <div id={id} className={isOpen ? styles.open : styles.shut}>
        {children}
      </div>
    </div>
  );
}
