import type { JobKit, KitOffer, KitWait } from '@corewright/contracts/pick-list';
import { Code } from '../../../ui/Code.js';
import { Go } from '../../../ui/Go.js';
import { MiniTag } from '../../../ui/Tag.js';
import styles from './PickList.module.css';
import { sayKit, sayQuantity, sayWait } from './say-kit.js';

/** How far one job's tray is filled, what it waits for, and what may be had only as another part. */
export function KitOfJob({ job }: { readonly job: JobKit }) {
  return (
    <article className={styles.kit} aria-label={`${job.tray.name}, ${job.name}`}>
      <h3 className={styles.kitHead}>
        <MiniTag code={job.code} href={`/jobs/${job.id}`} />
        <span>{job.name}</span>
        <b className={styles.kitWord}>{job.kit}</b>
      </h3>
      <p className="read">{sayKit(job)}</p>
      <Missing job={job} />
    </article>
  );
}

/** What a tray cannot be filled with now. */
export function Missing({ job }: { readonly job: JobKit }) {
  return (
    <>
      {job.waits.length > 0 && (
        <ul className={styles.waits} aria-label="Waited for, or lacking">
          {job.waits.map((wait, index) => (
            <Wait key={`${wait.lineId} ${index}`} jobId={job.id} wait={wait} />
          ))}
        </ul>
      )}
      {job.offers.length > 0 && (
        <>
          <h4 className={styles.offersHead}>Only as another part: not to be fetched before somebody accepts it</h4>
          <ul className={styles.waits} aria-label="Only as another part">
            {job.offers.map((offer) => (
              <Offer key={`${offer.lineId} ${offer.thing.id}`} jobId={job.id} offer={offer} />
            ))}
          </ul>
        </>
      )}
    </>
  );
}

function Wait({ jobId, wait }: { readonly jobId: string; readonly wait: KitWait }) {
  return (
    <li>
      <Go href={`/jobs/${jobId}#line-${wait.lineNo}`}>
        line {wait.lineNo}, {wait.part.name}
      </Go>{' '}
      <span className="pn">{wait.part.number}</span> <b>{sayWait(wait)}</b>
    </li>
  );
}

function Offer({ jobId, offer }: { readonly jobId: string; readonly offer: KitOffer }) {
  const { instead, thing } = offer;
  return (
    <li>
      line {offer.lineNo}, {offer.part.name} <span className="pn">{offer.part.number}</span>:{' '}
      {sayQuantity(offer.quantity, offer.unitOfMeasure)} as <b>{instead.number || instead.name}</b>
      {instead.maker !== '' && ` of ${instead.maker}`}, <Code code={thing.code} />, {offer.where}. {offer.words}{' '}
      <Go className={styles.accept} href={`/jobs/${jobId}/lines/${offer.lineId}/instead?part=${instead.id}`}>
        Accept it for line {offer.lineNo}
      </Go>
    </li>
  );
}
