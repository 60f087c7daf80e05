import type { CoveredLine } from '@corewright/contracts/coverage';
import type { JobCard } from '@corewright/contracts/jobs';
import { useEffect, useId, useRef, useState } from 'react';
import { CoverageBar } from '../../ui/CoverageBar.js';
import { Critical } from '../../ui/Critical.js';
import { classNames } from '../../ui/class-names.js';
import { Go } from '../../ui/Go.js';
import { CoverShares } from './CoverShares.js';
import { barOf, isFinished } from './cover.js';
import { JobLineDetail } from './JobLineDetail.js';
import styles from './JobLines.module.css';

export interface JobLineProps {
  readonly jobId: string;
  readonly state: JobCard['state'];
  readonly line: CoveredLine;
}

/** One line: number, part, need, its bar, and each share's state with where and why. */
export function JobLine({ jobId, state, line }: JobLineProps) {
  const [isOpen, setOpen] = useState(false);
  const id = useId();
  const row = useRef<HTMLLIElement>(null);
  const anchor = `line-${line.lineNo}`;
  useEffect(() => {
    if (window.location.hash === `#${anchor}`) row.current?.scrollIntoView({ block: 'center' });
  }, [anchor]);
  return (
    <li ref={row} id={anchor} className={classNames(styles.line, line.critical && styles.critical)}>
      <div className={styles.grid}>
        <span className={styles.no}>{line.lineNo}</span>
        <span className={styles.pn}>{line.part.number}</span>
        <span className={styles.part}>
          <Go className={styles.partName} href={`/stores/parts/${line.part.id}`}>
            {line.part.name}
          </Go>
          {line.critical && <Critical stops={line.stops} />}
        </span>
        <span className={styles.need}>
          <span className={styles.label}>need </span>
          {line.needed} {line.part.unitOfMeasure !== 'each' && <small>{line.part.unitOfMeasure}</small>}
        </span>
        <span className={styles.bar}>{line.waived === null && !line.consumable && <CoverageBar shares={barOf(line)} />}</span>
        <span className={styles.words}>
          {line.consumable ? (
            <span className={styles.why}>
              <b>consumable</b>, not waited for
            </span>
          ) : line.waived === null ? (
            <CoverShares shares={line.shares} />
          ) : (
            <span className={styles.why}>
              <b>waived</b>: {line.waived}
            </span>
          )}
        </span>
        <button type="button" className={styles.more} aria-expanded={isOpen} aria-controls={id} onClick={() => setOpen(!isOpen)}>
          {isOpen ? 'less' : 'more'}
          <span className="hidden"> about line {line.lineNo}</span>
        </button>
      </div>
      <div id={id}>{isOpen && <JobLineDetail jobId={jobId} state={state} line={line} canDecide={!isFinished(line)} />}</div>
    </li>
  );
}
