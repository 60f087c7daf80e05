import styles from './Coverage.module.css';
import { CoverageMark } from './CoverageMark.js';
import { COVERAGE_WORDS, type CoverageState } from './coverage-states.js';

export interface CoverageWordProps {
  readonly state: CoverageState;
  /** A count before the word, left out where it would only say "1". */
  readonly quantity?: string;
}

/** A state of cover in a word beside its shape: "2 free in stores". */
export function CoverageWord({ state, quantity }: CoverageWordProps) {
  return (
    <span className={styles.word} data-cov={state}>
      <CoverageMark state={state} />
      <b>{quantity === undefined ? COVERAGE_WORDS[state] : `${quantity} ${COVERAGE_WORDS[state]}`}</b>
    </span>
  );
}
