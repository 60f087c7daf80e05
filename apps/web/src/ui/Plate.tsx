import { classNames } from './class-names.js';
import styles from './Plate.module.css';

export interface PlateProps {
  /** The mode in one word: look, pick, fit, put away. */
  readonly mode: string;
  /** A solid plate moves stock; an open one only looks. */
  readonly moves: boolean;
  /** The bench reads it across the shop. */
  readonly size?: 'strip' | 'wall';
}

/** The enamel sign that says what a scan does now. */
export function Plate({ mode, moves, size = 'strip' }: PlateProps) {
  return (
    <span className={classNames(styles.plate, !moves && styles.looks, size === 'wall' && styles.wall)}>
      <span className="hidden">Mode: </span>
      {mode}
    </span>
  );
}
