import type { ReactNode } from 'react';
import styles from './Coverage.module.css';
import type { CoverageState } from './coverage-states.js';

const FRAME = <rect x="1" y="1" width="17" height="17" fill="none" stroke="currentColor" strokeWidth="2" />;
const FULL = <rect x="1" y="1" width="17" height="17" fill="currentColor" stroke="currentColor" strokeWidth="2" />;

/** Each shape is a slot, and what stands in it. */
const SHAPES: Readonly<Record<CoverageState, ReactNode>> = {
  fitted: FULL,
  reused: (
    <>
      {FULL}
      <circle cx="9.5" cy="9.5" r="4.2" fill="none" stroke="var(--bar-ground)" strokeWidth="2.2" />
    </>
  ),
  picked: (
    <>
      {FRAME}
      <rect x="1" y="9" width="17" height="9" fill="currentColor" />
    </>
  ),
  free: (
    <>
      {FRAME}
      <rect x="6" y="6" width="7" height="7" fill="currentColor" />
    </>
  ),
  coming: (
    <>
      <path d="M6 1H18V18H6" fill="none" stroke="currentColor" strokeWidth="2" />
      <path d="M0 4.5 10 9.5 0 14.5Z" fill="currentColor" />
    </>
  ),
  core: (
    <>
      {FRAME}
      <path d="M9.5 4 14.3 6.75V12.25L9.5 15 4.7 12.25V6.75Z" fill="none" stroke="currentColor" strokeWidth="2" />
    </>
  ),
  unseen: (
    <>
      {FRAME}
      <path d="M5 9.5h.1M9.5 9.5h.1M14 9.5h.1" stroke="currentColor" strokeWidth="2.6" strokeLinecap="round" />
    </>
  ),
  lacking: (
    <>
      <rect
        x="1"
        y="1"
        width="17"
        height="17"
        fill="none"
        stroke="currentColor"
        strokeWidth="2"
        strokeDasharray="4 2.8"
        strokeDashoffset="2"
      />
      <path d="M5 5 14 14M14 5 5 14" stroke="currentColor" strokeWidth="2.2" />
    </>
  ),
};

export interface CoverageMarkProps {
  readonly state: CoverageState;
}

/** The shape of a state of cover, beside its word; alone it says nothing to a screen reader. */
export function CoverageMark({ state }: CoverageMarkProps) {
  return (
    <svg className={styles.mark} data-cov={state} viewBox="0 0 19 19" aria-hidden="true" focusable="false">
      {SHAPES[state]}
    </svg>
  );
}
