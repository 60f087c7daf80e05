import type { CSSProperties } from 'react';
import { classNames } from './class-names.js';
import styles from './RangePlot.module.css';

export interface RangePlotProps {
  /** The same in a sentence, for those who hear it. */
  readonly label: string;
  /** From nought to a hundred. */
  readonly least: number;
  readonly mean: number;
  readonly most: number;
  /** Too little is known for the range to say anything: it is drawn broken and has no mark. */
  readonly isVague?: boolean;
}

/** A range on a scale of a hundred, as a dimension line is drawn: its two ends, and a mark where the next one is to be expected. */
export function RangePlot({ label, least, mean, most, isVague = false }: RangePlotProps) {
  const at = { '--least': least, '--mean': mean, '--most': most } as CSSProperties;
  return (
    <span className={classNames(styles.plot, isVague && styles.vague)} role="img" aria-label={label} style={at}>
      <span className={styles.scale} />
      <span className={styles.line} />
      {!isVague && <span className={styles.mark} />}
    </span>
  );
}
