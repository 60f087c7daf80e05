import { useId } from 'react';
import styles from './Progress.module.css';

export interface ProgressProps {
  /** What is under way: "Reading rows". */
  readonly label: string;
  readonly done: number;
  readonly of: number;
  /** What is counted, where the label does not say: "kB". */
  readonly unit?: string;
}

/** How far long work has come, in figures and as a steel rule that fills. It can be left; the work goes on. */
export function Progress({ label, done, of, unit }: ProgressProps) {
  const id = useId();
  return (
    <div className={styles.progress}>
      <span id={id}>{label}</span>
      <span className="num">
        {done} of {of}
        {unit !== undefined && ` ${unit}`}
      </span>
      <progress aria-labelledby={id} value={done} max={of} />
    </div>
  );
}
