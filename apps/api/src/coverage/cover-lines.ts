import { type CoveredLine, type CoverShare, type CoverState, coverStates } from '@corewright/contracts/coverage';
import {
  type Decimal,
  decimalFrom,
  formatDecimal,
  lesserDecimal,
  notBelowZero,
  subtractDecimals,
  sumDecimals,
  zero,
} from '@corewright/quantities/decimal';
import { formatPlainDate } from '@corewright/quantities/plain-date';
import { spoken } from '../jobs/job.queries.js';
import { type Declined, type Offer, offersFor } from '../jobs/offers-for-line.js';
import type { CoverageFacts, LineFacts, ReceiptFact } from './coverage-facts.js';
import { Supply } from './supply.js';
import { whereWasLooked, whyLotMayNotServe } from './where-looked.js';

/**
 * Covers each line of one job in the order of comfort: fitted, re-used, picked or claimed, not yet looked at, free in
 * stores, on order, lacking; a line may be split across several. Critical lines take before others, then by line number; among lines
 * that are alike in that, a part goes to the line that asks for it before it serves another line in place of its part.
 * Where free stock lies is told by `withWhereabouts`.
 * Free stock and outstanding receipts serve one line at a time within the job; other jobs' wants are not weighed here.
 */
export function coverLines(facts: CoverageFacts): CoveredLine[] {
  const supply = new Supply(facts);
  const fillings = facts.lines
    .toSorted((a, b) => Number(b.critical) - Number(a.critical) || a.lineNo - b.lineNo)
    .map((line) => fillingOf(line, facts));
  for (const critical of [true, false])
    coverTogether(
      fillings.filter(({ line }) => line.critical === critical),
      facts,
      supply,
    );
  const covered = new Map(fillings.map((filling) => [filling.line.id, coveredLine(filling, facts)]));
  return facts.lines.map((line) => covered.get(line.id)!);
}

/** A line while it is being covered. */
interface Filling {
  line: LineFacts;
  offers: readonly Offer[];
  declined: readonly Declined[];
  shares: CoverShare[];
  open: Decimal;
}

function fillingOf(line: LineFacts, facts: CoverageFacts): Filling {
  const { offers, declined } = offersFor(line, facts.servers.get(line.partId) ?? [], facts.substitutes);
  return { line, offers, declined, shares: [], open: decimalFrom(line.needed) };
}

/** Covers lines that stand equal: what is sure for all of them first, then each source in its turn. */
function coverTogether(fillings: readonly Filling[], facts: CoverageFacts, supply: Supply): void {
  for (const filling of fillings) coverFromUnit(filling, facts);
  const asking = fillings.filter(({ line }) => line.waived === null);
  for (const filling of asking) {
    coverFromClaims(filling, supply);
    share(filling, 'not yet looked at', unseenOf(filling.line), {
      words: filling.line.ownAway === '' ? 'this unit’s own has not been looked at' : `this unit’s own: ${filling.line.ownAway}`,
    });
  }
  for (const source of [coverFromStock, coverFromOrders])
    for (const isExact of [true, false])
      for (const filling of asking)
        for (const offer of filling.offers) if ((offer.instead === null) === isExact) source(filling, offer, facts, supply);
  for (const filling of asking) share(filling, 'lacking', filling.open, { words: '' });
}

function coverFromUnit(filling: Filling, facts: CoverageFacts): void {
  const { line } = filling;
  const fittings = facts.fitted.filter((fitting) => fitting.lineId === line.id);
  share(filling, 'fitted', decimalFrom(line.fitted), { words: fittings.map((fitting) => spoken(fitting.code)).join(', ') });
  share(filling, 're-used', decimalFrom(line.reused), { words: line.findingWords || 'from this unit' });
}

function coveredLine({ line, offers, declined, shares }: Filling, facts: CoverageFacts): CoveredLine {
  const lacks = shares.some((each) => each.state === 'lacking');
  const fittings = facts.fitted.filter((fitting) => fitting.lineId === line.id);
  return {
    id: line.id,
    lineNo: line.lineNo,
    part: { id: line.partId, name: line.name, number: line.number, unitOfMeasure: line.unitOfMeasure },
    needed: plain(line.needed),
    operationId: line.operationId,
    critical: line.critical,
    reusable: line.reusable,
    further: line.further,
    waived: line.waived,
    version: line.version,
    state: worstOf(shares),
    shares,
    stops: line.critical && lacks,
    looked: lacks ? whereWasLooked(line, offers, declined, facts) : [],
    substitutes: facts.substitutes
      .filter((each) => each.lineId === line.id)
      .map(({ lineId: _line, ...substitute }) => substitute),
    fittedFrom: fittings.map(({ lineId: _line, thingId, code, name, quantity, ...rest }) => ({
      ...rest,
      thing: { id: thingId, code, name },
      quantity: plain(quantity),
    })),
  };
}

interface ShareFacts {
  words: string;
  on?: { id: string; code: string; name: string };
  receipt?: ReceiptFact;
  offer?: Offer | undefined;
}

/** Gives the line so much in a state, never more than it still needs. */
function share(filling: Filling, state: CoverState, quantity: Decimal, { words, on, receipt, offer }: ShareFacts): void {
  const given = lesserDecimal(filling.open, quantity);
  if (given <= zero) return;
  filling.open = subtractDecimals(filling.open, given);
  filling.shares.push({
    state,
    quantity: formatDecimal(given),
    on: on ?? null,
    receiptId: receipt?.id ?? null,
    dueOn: receipt?.dueOn ?? null,
    confirmed: receipt?.confirmed ?? null,
    words,
    instead: offer?.instead ?? null,
  });
}

function coverFromClaims(filling: Filling, supply: Supply): void {
  for (const claim of supply.claimsFor(filling.line)) {
    const taken = supply.takeClaim(claim, filling.open);
    share(filling, 'picked', taken, {
      words: claim.where,
      on: { id: claim.thingId, code: claim.code, name: claim.name },
      offer: filling.offers.find((offer) => offer.partId === claim.partId),
    });
  }
}

/** The unit's own parts that nobody has looked at: neither there nor lacking. */
function unseenOf(line: LineFacts): Decimal {
  if (!line.reusable) return zero;
  return notBelowZero(subtractDecimals(decimalFrom(line.needed), decimalFrom(line.lookedAt)));
}

function coverFromStock(filling: Filling, offer: Offer, facts: CoverageFacts, supply: Supply): void {
  for (const lot of facts.stock) {
    if (filling.open <= zero) return;
    if (lot.partId !== offer.partId || whyLotMayNotServe(lot, filling.line, facts.today) !== null) continue;
    const taken = supply.takeStock(lot, filling.open);
    share(filling, 'free in stores', taken, { words: '', on: { id: lot.thingId, code: lot.code, name: lot.name }, offer });
  }
}

function coverFromOrders(filling: Filling, offer: Offer, facts: CoverageFacts, supply: Supply): void {
  for (const receipt of facts.receipts) {
    if (filling.open <= zero) return;
    if (receipt.partId !== offer.partId) continue;
    const taken = supply.takeReceipt(receipt, filling.open);
    share(filling, 'on order', taken, { words: orderWords(receipt, facts.today), receipt, offer });
  }
}

function orderWords(receipt: ReceiptFact, today: string): string {
  const due =
    receipt.dueOn === null
      ? 'no date given'
      : receipt.dueOn < today
        ? `was due ${formatPlainDate(receipt.dueOn)}, overdue`
        : `due ${formatPlainDate(receipt.dueOn)}`;
  return `order ${receipt.orderReference}, ${receipt.supplier}, ${due}${receipt.confirmed ? '' : ', not confirmed'}`;
}

function worstOf(shares: readonly CoverShare[]): CoverState {
  return coverStates.toReversed().find((state) => shares.some((each) => each.state === state)) ?? 'fitted';
}

/** How many lines stand in each state, each line counted by its worst. */
export function countStates(lines: readonly CoveredLine[]): Record<string, number> {
  const counts = Object.fromEntries(coverStates.map((state) => [state, 0]));
  for (const line of lines) counts[line.state] = (counts[line.state] ?? 0) + 1;
  return counts;
}

/** Whether every line is in the unit, or waived. */
export function isComplete(lines: readonly CoveredLine[]): boolean {
  return lines.every(
    (line) =>
      line.waived !== null ||
      sumDecimals(
        line.shares
          .filter((each) => each.state === 'fitted' || each.state === 're-used')
          .map((each) => decimalFrom(each.quantity)),
      ) >= decimalFrom(line.needed),
  );
}

function plain(quantity: string): string {
  return formatDecimal(decimalFrom(quantity));
}
