import type { JobKit, PickStop } from '@corewright/contracts/pick-list';
import { Code } from '../../../ui/Code.js';
import { classNames } from '../../../ui/class-names.js';
import { Go } from '../../../ui/Go.js';
import { MiniTag } from '../../../ui/Tag.js';
import styles from './PickList.module.css';
import { sayQuantity } from './say-kit.js';
import type { WalkedRow } from './walked.js';

export interface StopProps {
  readonly place: PickStop['place'];
  readonly rows: readonly WalkedRow[];
  readonly jobs: ReadonlyMap<string, JobKit>;
}

/** A place with everything that is taken there. */
export function Stop({ place, rows, jobs }: StopProps) {
  const around = place.path.endsWith(`, ${place.name}`) ? place.path.slice(0, -place.name.length - 2) : '';
  const isDone = rows.every(({ left }) => left === '0');
  return (
    <article className={styles.stop} aria-label={place.path}>
      <header className={styles.place}>
        <div>
          {around !== '' && <p className={styles.around}>{around}</p>}
          <h2 className={styles.name}>{isDone ? <s>{place.name}</s> : place.name}</h2>
        </div>
        <Go className={styles.placeCode} href={`/stores/places/${place.id}`}>
          <Code code={place.code} size="row" />
        </Go>
      </header>
      <ul aria-label={`To take at ${place.path}`}>
        {rows.map((row) => (
          <Row key={row.key} walked={row} job={jobs.get(row.row.jobId)} />
        ))}
      </ul>
    </article>
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
