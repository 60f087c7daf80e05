import { type Decimal, decimalFrom, formatDecimal, subtractDecimals, sumDecimals, zero } from '@corewright/quantities/decimal';
import { notAccepted, tooOld } from '../bench/may-serve.js';
import { spoken } from '../jobs/job.queries.js';
import type { Declined, Offer } from '../jobs/offers-for-line.js';
import type { ClaimFact, CoverageFacts, LineFacts, StockFact } from './coverage-facts.js';

/** Why a lot of a part that would do may not serve the line; null when it may. */
export function whyLotMayNotServe(lot: StockFact, line: LineFacts, today: string): string | null {
  if (lot.condemned) return 'condemned';
  if (lot.heldBackReason !== null) return `held back: ${lot.heldBackReason}`;
  if (lot.isOfSetElsewhere) return 'it belongs to a set, and another job has the rest of it';
  const stop = tooOld(lot, today) ?? notAccepted(lot, line);
  return stop === null ? null : stop.detail.replace(/ Nothing was changed\.$/, '');
}

/** What was looked for and where, for a line that lacks something. */
export function whereWasLooked(
  line: LineFacts,
  offers: readonly Offer[],
  declined: readonly Declined[],
  facts: CoverageFacts,
): string[] {
  const receipts = facts.receipts.filter((receipt) => offers.some((offer) => offer.partId === receipt.partId));
  const looked = offers.flatMap((offer) => stockLooked(line, offer, facts));
  looked.push(...declined.map(({ words }) => words));
  looked.push(
    receipts.length === 0
      ? 'On order: nothing outstanding.'
      : `On order: ${receipts.map((receipt) => `${receipt.orderReference} of ${receipt.supplier}`).join(', ')}, counted above.`,
  );
  if (decimalFrom(line.lookedAt) > decimalFrom(line.reused))
    looked.push(`This unit’s own: ${(line.findingWords || 'not fit to be used again').replace(/\.$/, '')}.`);
  return looked;
}

function stockLooked(line: LineFacts, { partId, instead }: Offer, facts: CoverageFacts): string[] {
  const lots = facts.stock.filter((lot) => lot.partId === partId);
  const number = instead === null ? line.number || line.name : instead.part.number || instead.part.name;
  if (lots.length === 0)
    return [
      instead === null
        ? `In stores: none of ${number}, under this or any other number of the part.`
        : `In stores: none of ${number}, ${instead.part.maker}, either. ${instead.words}`,
    ];
  return lots.map((lot) => {
    const reason = whyLotMayNotServe(lot, line, facts.today);
    const promised = claimedElsewhere(lot, facts.claims);
    const which = instead === null ? spoken(lot.code) : `${spoken(lot.code)}, ${number}`;
    if (reason !== null) return `${which}: ${reason}`;
    if (promised > zero) return `${which}: ${formatDecimal(promised)} promised to another job.`;
    return `${which}: all that is there is counted above.`;
  });
}

function claimedElsewhere(lot: StockFact, own: readonly ClaimFact[]): Decimal {
  const ofThisJob = sumDecimals(own.filter((claim) => claim.thingId === lot.thingId).map((claim) => decimalFrom(claim.quantity)));
  return subtractDecimals(decimalFrom(lot.claimed), ofThisJob);
}
