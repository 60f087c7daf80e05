import styles from './Code.module.css';
import { classNames } from './class-names.js';

export interface CodeProps {
  /** A label code as it is stored: a letter, six figures or more, two check figures (`U00041221`). */
  readonly code: string;
  /** In a column of rows the code stands larger than the words. */
  readonly size?: 'words' | 'row';
}

/** A label code as people read it: letter, figures, and the two check figures stepped back. It takes the size of the words around it. */
export function Code({ code, size = 'words' }: CodeProps) {
  const bare = code.replace(/\s+/g, '');
  const className = classNames(styles.code, size === 'row' && styles.row);
  if (bare.length < 4) return <span className={className}>{bare}</span>;
  return (
    <span className={className}>
      {bare.slice(0, 1)} {bare.slice(1, -2)} <span className={styles.check}>{bare.slice(-2)}</span>
    </span>
  );
}
