import type { Elsewhere } from '@corewright/contracts/coverage';
import { decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import { spoken } from '../jobs/job.queries.js';
import type { WantingJob } from './coverage-facts.js';
import type { SharedOut } from './share-out.js';
import type { Asking, Source } from './sources.js';
import { whyLotMayNotServe } from './why-lot-may-not-serve.js';

/** Who has what a line could use, or is served with it before this line. */
export function whatIsElsewhere(asking: Asking, shared: SharedOut): Elsewhere[] {
  return [...claimedByOthers(asking, shared), ...orderedByOthers(asking, shared), ...givenToOthers(asking, shared)];
}

function claimedByOthers({ line, job, offers }: Asking, { facts, index }: SharedOut): Elsewhere[] {
  const claims = offers.flatMap(({ partId }) => index.claims.get(partId) ?? []);
  return claims.flatMap((claim): Elsewhere[] => {
    const holder = index.jobs.get(claim.jobId);
    const lot = index.lots.get(claim.thingId);
    if (holder === undefined || holder.id === job.id || lot === undefined) return [];
    if (lot.ownerId !== null && lot.ownerId !== job.customerId) return [];
    if (whyLotMayNotServe(lot, line, facts.today) !== null) return [];
    const { thingId: id, code, name } = claim;
    return [
      {
        job: jobShown(holder),
        thing: { id, code, name },
        receiptId: null,
        quantity: formatDecimal(decimalFrom(claim.quantity)),
        how: claim.inTray ? 'in its tray' : 'reserved',
        words: claim.inTray ? `${spoken(code)} is in its tray` : `${spoken(code)} is reserved for it`,
      },
    ];
  });
}

function orderedByOthers({ job, offers }: Asking, { index }: SharedOut): Elsewhere[] {
  return offers
    .flatMap(({ partId }) => index.receipts.get(partId) ?? [])
    .flatMap(({ id, orderReference, outstanding, forJobId, reserved }): Elsewhere[] => {
      const holder = index.jobs.get(forJobId ?? '');
      if (holder === undefined || holder.id === job.id || reserved === null) return [];
      const words = `${formatDecimal(decimalFrom(outstanding))} of order ${orderReference} is reserved for it`;
      return [
        {
          job: jobShown(holder),
          thing: null,
          receiptId: id,
          quantity: formatDecimal(decimalFrom(outstanding)),
          how: 'reserved',
          words,
        },
      ];
    });
}

function givenToOthers(asking: Asking, { mayServe, takers }: SharedOut): Elsewhere[] {
  const shared = (mayServe.get(asking.line.id) ?? []).filter(({ source }) => source.kind !== 'claimed');
  return shared.flatMap(({ source }) =>
    (takers.get(source.id) ?? [])
      .filter((taker) => taker.asking.job.id !== asking.job.id)
      .map(
        (taker): Elsewhere => ({
          job: jobShown(taker.asking.job),
          thing: thingOf(source),
          receiptId: source.kind === 'order' ? source.receipt.id : null,
          quantity: formatDecimal(taker.quantity),
          how: 'goes to it first',
          words: `${sourceWords(source)} goes to it first: ${whyFirst(taker.asking, asking)}`,
        }),
      ),
  );
}

function jobShown({ id, code, title }: WantingJob): Elsewhere['job'] {
  return { id, code, name: title };
}

function thingOf(source: Source): Elsewhere['thing'] {
  if (source.kind === 'lot') return { id: source.lot.thingId, code: source.lot.code, name: source.lot.name };
  if (source.kind === 'away') return { id: source.away.thingId, code: source.away.code, name: source.away.name };
  if (source.kind === 'core') return { id: source.donor.unitId, code: source.donor.code, name: source.donor.name };
  return null;
}

/** "L 000844 36", "order 219" */
export function sourceWords(source: Source): string {
  if (source.kind === 'order') return `order ${source.receipt.orderReference}`;
  const thing = thingOf(source);
  return thing === null ? 'it' : spoken(thing.code);
}

function whyFirst(first: Asking, second: Asking): string {
  if (first.rank > second.rank) return 'this job is covered as far as it can be without it';
  if (first.job.isSupposedFirst) return 'it is supposed to come first';
  if (first.job.priority !== second.job.priority) return `priority ${first.job.priority} comes before ${second.job.priority}`;
  if (first.job.dateGiven !== second.job.dateGiven) return 'a date was given for it that comes before';
  return 'it was opened before';
}
