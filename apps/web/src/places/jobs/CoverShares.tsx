import type { CoverShare } from '@corewright/contracts/coverage';
import { Code } from '../../ui/Code.js';
import { CoverageWord } from '../../ui/CoverageWord.js';
import { Go } from '../../ui/Go.js';
import { sayDayShort } from '../../ui/say-when.js';
import { markOf } from './cover.js';
import styles from './JobLines.module.css';

/** What a line is covered with, the worst first: each state, then where and why. */
export function CoverShares({ shares }: { readonly shares: readonly CoverShare[] }) {
  const worstFirst = shares.toReversed();
  return (
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
