import type { JobKit, OfferHere, PickStop } from '@corewright/contracts/pick-list';
import { type ReactNode, useRef, useState } from 'react';
import { Code } from '../../../ui/Code.js';
import { classNames } from '../../../ui/class-names.js';
import { Go } from '../../../ui/Go.js';
import { MiniTag } from '../../../ui/Tag.js';
import { AcceptAtStop } from './AcceptAtStop.js';
import styles from './PickList.module.css';
import { sayQuantity } from './say-kit.js';
import type { WalkedRow } from './walked.js';

export interface StopProps {
  readonly place: PickStop['place'];
  readonly rows: readonly WalkedRow[];
  /** what lies here and may be had only as another part */
  readonly offers: readonly OfferHere[];
  readonly jobs: ReadonlyMap<string, JobKit>;
  /** the names of those who may accept another part */
  readonly mayAccept: readonly string[];
}

/** A place with everything that is taken there. */
export function Stop({ place, rows, offers, jobs, mayAccept }: StopProps) {
  const around = place.path.endsWith(`, ${place.name}`) ? place.path.slice(0, -place.name.length - 2) : '';
  const [said, say] = useState('');
  const here = useRef<HTMLElement>(null);
  // with what is accepted the stop takes its turn in the walk: whoever stands there is brought along
  const accepted = ({ instead, lineNo }: OfferHere) => {
    say(`Accepted: ${instead.number || instead.name} is to be taken here for line ${lineNo}.`);
    here.current?.focus();
  };
  const isDone = rows.length > 0 && rows.every(({ left }) => left === '0');
  return (
    <article ref={here} tabIndex={-1} className={styles.stop} aria-label={place.path}>
      <header className={styles.place}>
        <div>
          {around !== '' && <p className={styles.around}>{around}</p>}
          <h2 className={styles.name}>{isDone ? <s>{place.name}</s> : place.name}</h2>
        </div>
        <Go className={styles.placeCode} href={`/stores/places/${place.id}`}>
          <Code code={place.code} size="row" />
        </Go>
      </header>
      <p role="status" className={said === '' ? 'hidden' : 'read'}>
        {said}
      </p>
      {rows.length > 0 && (
        <ul aria-label={`To take at ${place.path}`}>
          {rows.map((row) => (
            <Row key={row.key} walked={row} job={jobs.get(row.row.jobId)} />
          ))}
        </ul>
      )}
      {offers.length > 0 && (
        <ul className={styles.waits} aria-label={`In place of what is short, at ${place.path}`}>
          {offers.map((offer) => (
            <OfferedHere key={`${offer.jobId} ${offer.lineId} ${offer.thing.id}`} offer={offer} job={jobs.get(offer.jobId)}>
              <AcceptAtStop offer={offer} mayAccept={mayAccept} onAccepted={() => accepted(offer)} />
            </OfferedHere>
          ))}
        </ul>
      )}
    </article>
  );
}

interface OfferedHereProps {
  readonly offer: OfferHere;
  readonly job: JobKit | undefined;
  readonly children: ReactNode;
}

/** Somebody stands before it: what is short, what lies here that may go in its place, and accepting that with its evidence. */
function OfferedHere({ offer, job, children }: OfferedHereProps) {
  const { instead, thing, part } = offer;
  return (
    <li>
      <b>Short: {part.name}</b> <span className="pn">{part.number}</span>, line {offer.lineNo}
      {job !== undefined && ` of ${job.name}`}. In its place lies here {sayQuantity(offer.quantity, offer.unitOfMeasure)} of{' '}
      <b>{instead.number || instead.name}</b>
      {instead.maker !== '' && ` of ${instead.maker}`}, <Code code={thing.code} />. {offer.words} Not to be fetched before
      somebody accepts it. {children}
    </li>
  );
}

function Row({ walked: { row, left, picked }, job }: { readonly walked: WalkedRow; readonly job: JobKit | undefined }) {
  const isDone = left === '0';
  const { thing, part, unitOfMeasure } = row;
  return (
    <li className={classNames(styles.row, isDone && styles.done)}>
      <span className={styles.tick} aria-hidden="true" />
      <span className={styles.many}>{sayQuantity(isDone ? picked : left, unitOfMeasure)}</span>
      <Go className={styles.thing} href={`/stores/things/${thing.id}`}>
        <Code code={thing.code} size="row" />
      </Go>
      <span className={styles.what}>
        <span className="pn">{part.number}</span> <b>{part.name || thing.name}</b>
        <span className={styles.notes}>{notesOf({ row, left, picked })}</span>
      </span>
      {job !== undefined && (
        <span className={styles.tray}>
          <MiniTag code={job.code} href={`/jobs/${job.id}`} />
          <span className={styles.trayName}>{job.tray.name}</span>
        </span>
      )}
    </li>
  );
}

function notesOf({ row, left, picked }: Pick<WalkedRow, 'row' | 'left' | 'picked'>): string {
  if (left === '0') return 'taken';
  const { inPlaceOf, isReserved } = row;
  return [
    picked === '0' ? '' : `${sayQuantity(picked, row.unitOfMeasure)} taken already`,
    isReserved ? 'reserved' : '',
    inPlaceOf === null ? '' : `in place of ${inPlaceOf.number || inPlaceOf.name}`,
    row.lines.length === 1 ? '' : `for lines ${row.lines.map(({ lineNo }) => lineNo).join(', ')}: scan it once for each`,
    // a scan takes what the line needs from all places of the thing
    row.inAll === left ? '' : `key ${left} after the scan: of ${row.inAll} in all the rest lies elsewhere`,
  ]
    .filter((words) => words !== '')
    .join('; ');
}
