import { type Decimal, decimalFrom, formatDecimal, subtractDecimals, sumDecimals, zero } from '@corewright/quantities/decimal';
import { spoken } from '../jobs/job.queries.js';
import type { Offer } from '../jobs/offers-for-line.js';
import type { DonorFact, ReceiptFact, SetFact, StockFact } from './coverage-facts.js';
import type { SharedOut } from './share-out.js';
import type { Asking } from './sources.js';
import { whyLotMayNotServe } from './why-lot-may-not-serve.js';
import type { WorkshopIndex } from './workshop-index.js';

/** What was looked for and where, for a line that lacks something. */
export function whereWasLooked(asking: Asking, shared: SharedOut): string[] {
  const { line, job, offers, declined } = asking;
  const { index } = shared;
  const receipts = offers.flatMap(({ partId }) => index.receipts.get(partId) ?? []);
  const donors = offers.flatMap(({ partId }) => index.donors.get(partId) ?? []);
  const looked = offers.flatMap((offer) => stockLooked(asking, offer, shared));
  looked.push(...declined.map(({ words }) => words));
  looked.push(
    receipts.length === 0
      ? 'On order: nothing outstanding.'
      : `On order: ${receipts.map((receipt) => orderLooked(receipt, job.id)).join(', ')}.`,
  );
  if (donors.length > 0) looked.push(`In cores: ${donors.map(coreLooked).join(', ')}.`);
  if (decimalFrom(line.lookedAt) > decimalFrom(line.reused))
    looked.push(`This unit’s own: ${(line.findingWords || 'not fit to be used again').replace(/\.$/, '')}.`);
  return looked;
}

function orderLooked({ orderReference, supplier, forJobId }: ReceiptFact, jobId: string): string {
  const forOther = forJobId !== null && forJobId !== jobId;
  return `${orderReference} of ${supplier}, ${forOther ? 'made for another job' : 'counted already'}`;
}

function coreLooked({ code, name, serviceable, looked }: DonorFact): string {
  const seen = looked === 0 ? 'nobody has looked at one' : `${serviceable} of ${looked} looked at serviceable`;
  return `${spoken(code)}, ${name}, ${seen}`;
}

function stockLooked(asking: Asking, { partId, instead }: Offer, shared: SharedOut): string[] {
  const { line, job } = asking;
  // what belongs to another customer concerns nobody but them
  const lots = (shared.index.stock.get(partId) ?? []).filter(({ ownerId }) => ownerId === null || ownerId === job.customerId);
  const number = instead === null ? line.number || line.name : instead.part.number || instead.part.name;
  if (lots.length === 0)
    return [
      instead === null
        ? `In stores: none of ${number}, under this or any other number of the part.`
        : `In stores: none of ${number}, ${instead.part.maker}, either. ${instead.words}`,
    ];
  return lots.map((lot) => {
    const which = instead === null ? spoken(lot.code) : `${spoken(lot.code)}, ${number}`;
    return `${which}: ${whyNotHere(lot, asking, shared)}`;
  });
}

function whyNotHere(lot: StockFact, { line, job }: Asking, { facts, index, mayServe }: SharedOut): string {
  const reason = whyLotMayNotServe(lot, line, facts.today);
  if (reason !== null) return reason;
  const set = index.sets.get(lot.setId ?? '');
  const serves = mayServe.get(line.id)?.some(({ source }) => source.id === lot.thingId);
  if (set !== undefined && !set.takers.includes(job.id) && !serves) return setWords(set);
  const promised = claimedElsewhere(lot, job.id, index);
  if (promised > zero) return `${formatDecimal(promised)} promised to another job.`;
  return 'all that is there is counted already.';
}

function setWords({ number, words, takers }: SetFact): string {
  const which = `it belongs to the set “${words}” ${number}`.trim();
  return takers.length > 0
    ? `${which}, and another job has the rest of it`
    : `${which}, which stays together and goes to a job that asks for all of it`;
}

function claimedElsewhere(lot: StockFact, jobId: string, { claims }: WorkshopIndex): Decimal {
  const own = (claims.get(lot.partId) ?? []).filter((claim) => claim.thingId === lot.thingId && claim.jobId === jobId);
  return subtractDecimals(decimalFrom(lot.claimed), sumDecimals(own.map((claim) => decimalFrom(claim.quantity))));
}
