import type { CoveredLine, CoverShare } from '@corewright/contracts/coverage';
import type { JobCard } from '@corewright/contracts/jobs';
import { useId, useState } from 'react';
import { Code } from '../../ui/Code.js';
import { CoverageBar } from '../../ui/CoverageBar.js';
import { CoverageWord } from '../../ui/CoverageWord.js';
import { Critical } from '../../ui/Critical.js';
import { classNames } from '../../ui/class-names.js';
import { Go } from '../../ui/Go.js';
import { sayDayShort } from '../../ui/say-when.js';
import { barOf, isFinished, markOf } from './cover.js';
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
  const worstFirst = line.shares.toReversed();
  return (
    <li className={classNames(styles.line, line.critical && styles.critical)}>
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
        <span className={styles.bar}>{line.waived === null && <CoverageBar shares={barOf(line)} />}</span>
        <span className={styles.words}>
          {line.waived === null ? (
            <>
              <span className={styles.covers}>
                {worstFirst.map((share) => (
                  <CoverageWord key={shareKey(share)} state={markOf(share.state)} quantity={share.quantity} />
                ))}
              </span>
              {worstFirst.map((share) => (
                <ShareWhy key={shareKey(share)} share={share} />
              ))}
            </>
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

function shareKey(share: CoverShare): string {
  const { claimId, expectedClaimId } = share.reservation ?? {};
  return `${share.state} ${share.on?.id ?? ''} ${share.receiptId ?? ''} ${claimId ?? expectedClaimId ?? ''}`;
}

function ShareWhy({ share }: { readonly share: CoverShare }) {
  if (share.words === '' && share.on === null) return null;
  return (
    <span className={styles.why}>
      {share.on !== null && !share.words.includes(share.on.code) && (
        <>
          <Go href={hrefOf(share.on)}>
            <Code code={share.on.code} />
          </Go>{' '}
        </>
      )}
      {share.words}
      {share.instead !== null && <Instead instead={share.instead} isHere={share.words !== '' || share.on !== null} />}
      {share.reservation !== null && (
        <b> reserved{share.reservation.until !== null && ` until ${sayDayShort(share.reservation.until)}`}</b>
      )}
      {share.dueOn !== null && !share.words.includes('due') && `, due ${sayDayShort(share.dueOn)}`}
    </span>
  );
}

/** Another part than the line asks for: which, on what word, and whether somebody has yet to accept it. */
function Instead({ instead, isHere }: { readonly instead: NonNullable<CoverShare['instead']>; readonly isHere: boolean }) {
  return (
    <>
      {isHere && ': '}
      <Go href={`/stores/parts/${instead.part.id}`}>
        {instead.part.number || instead.part.name}
        {instead.part.maker !== '' && ` of ${instead.part.maker}`}
      </Go>{' '}
      in its place. {instead.words}
      {instead.conditions !== '' && ` ${instead.conditions}.`}
      {!instead.isAccepted && (
        <>
          {' '}
          <b>Nobody has accepted it for this job yet.</b>
        </>
      )}
    </>
  );
}

function hrefOf(on: { id: string; code: string }): string {
  if (on.code.startsWith('J')) return `/jobs/${on.id}`;
  return on.code.startsWith('P') ? `/stores/places/${on.id}` : `/stores/things/${on.id}`;
}
