import type { CSSProperties } from 'react';
import styles from './Coverage.module.css';
import { classNames } from './class-names.js';
import { type CoverageShare, coverageInWords, sortShares } from './coverage-states.js';

export interface CoverageBarProps {
  readonly shares: readonly CoverageShare[];
  /** The tall bar sums a whole job; the low one is one line's. */
  readonly tall?: boolean;
}

/** How a need is covered: one hatch a state, from most ink to an empty crossed box, each as long as its share. */
export function CoverageBar({ shares, tall = false }: CoverageBarProps) {
  const sorted = sortShares(shares);
  return (
    <span className={classNames(styles.bar, tall && styles.tall)} role="img" aria-label={coverageInWords(sorted)}>
      {sorted.map((share) => (
        <span key={share.state} data-cov={share.state} style={{ '--n': Number(share.quantity) } as CSSProperties} />
      ))}
    </span>
  );
}
