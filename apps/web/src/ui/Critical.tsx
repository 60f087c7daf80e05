import styles from './Critical.module.css';
import { classNames } from './class-names.js';

export interface CriticalProps {
  /** True while this line stops the job; a critical line with cover is marked calmly. */
  readonly stops: boolean;
}

/** The mark of a line without which the unit cannot be released: a diamond and the word. */
export function Critical({ stops }: CriticalProps) {
  return <span className={classNames(styles.critical, !stops && styles.calm)}>critical</span>;
}
