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
import { notAccepted, tooOld } from '../bench/may-serve.js';
import { spoken } from '../jobs/job.queries.js';
import type { ClaimFact, CoverageFacts, LineFacts, ReceiptFact, StockFact } from './coverage-facts.js';

/**
 * Covers each line of one job in the order of comfort: fitted, re-used, picked or claimed, not yet looked at, free in
 * stores, on order, lacking; a line may be split across several. Critical lines take before others, then by line number.
 * Where free stock lies is told by `withWhereabouts`.
 * Free stock and outstanding receipts serve one line at a time within the job; other jobs' wants are not weighed here.
 */
export function coverLines(facts: CoverageFacts): CoveredLine[] {
  const supply = new Supply(facts);
  const inTurn = facts.lines.toSorted((a, b) => Number(b.critical) - Number(a.critical) || a.lineNo - b.lineNo);
  const covered = new Map(inTurn.map((line) => [line.id, coverLine(line, facts, supply)]));
  return facts.lines.map((line) => covered.get(line.id)!);
}

/** What is left to give out within the job. */
class Supply {
  private readonly stockLeft: Map<string, Decimal>;
  private readonly receiptsLeft: Map<string, Decimal>;
  private readonly claimsLeft: Map<ClaimFact, Decimal>;

  constructor(private readonly facts: CoverageFacts) {
    this.stockLeft = new Map(facts.stock.map((lot) => [lot.thingId, decimalFrom(lot.free)]));
    this.receiptsLeft = new Map(facts.receipts.map((receipt) => [receipt.id, decimalFrom(receipt.outstanding)]));
    this.claimsLeft = new Map(facts.claims.map((claim) => [claim, decimalFrom(claim.quantity)]));
  }

  /** Claims made for the line first; those that the job made for no line in particular serve any line of the part. */
  claimsFor(line: LineFacts): ClaimFact[] {
    return [
      ...this.facts.claims.filter((claim) => claim.lineId === line.id),
      ...this.facts.claims.filter((claim) => claim.lineId === null && claim.partId === line.partId),
    ];
  }

  takeClaim(claim: ClaimFact, wanted: Decimal): Decimal {
    return take(this.claimsLeft, claim, wanted);
  }

  takeStock(lot: StockFact, wanted: Decimal): Decimal {
    return take(this.stockLeft, lot.thingId, wanted);
  }

  takeReceipt(receipt: ReceiptFact, wanted: Decimal): Decimal {
    return take(this.receiptsLeft, receipt.id, wanted);
  }
}

function take<Key>(left: Map<Key, Decimal>, key: Key, wanted: Decimal): Decimal {
  const there = left.get(key) ?? zero;
  const taken = lesserDecimal(there, wanted);
  left.set(key, subtractDecimals(there, taken));
  return taken;
}

interface Filling {
  shares: CoverShare[];
  open: Decimal;
}

function coverLine(line: LineFacts, facts: CoverageFacts, supply: Supply): CoveredLine {
  const filling: Filling = { shares: [], open: decimalFrom(line.needed) };
  const fittings = facts.fitted.filter((fitting) => fitting.lineId === line.id);
  share(filling, 'fitted', decimalFrom(line.fitted), { words: fittings.map((fitting) => spoken(fitting.code)).join(', ') });
  share(filling, 're-used', decimalFrom(line.reused), { words: line.findingWords || 'from this unit' });
  if (line.waived === null) {
    coverFromClaims(filling, line, supply);
    share(filling, 'not yet looked at', unseenOf(line), { words: 'this unit’s own has not been looked at' });
    coverFromStock(filling, line, facts, supply);
    coverFromOrders(filling, line, facts, supply);
    share(filling, 'lacking', filling.open, { words: '' });
  }
  const state = worstOf(filling.shares);
  const lacks = filling.shares.some((each) => each.state === 'lacking');
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
    state,
    shares: filling.shares,
    stops: line.critical && lacks,
    looked: lacks ? whereWasLooked(line, facts) : [],
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
}

/** Gives the line so much in a state, never more than it still needs. */
function share(filling: Filling, state: CoverState, quantity: Decimal, { words, on, receipt }: ShareFacts): void {
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
  });
}

function coverFromClaims(filling: Filling, line: LineFacts, supply: Supply): void {
  for (const claim of supply.claimsFor(line)) {
    const taken = supply.takeClaim(claim, filling.open);
    share(filling, 'picked', taken, { words: claim.where, on: { id: claim.thingId, code: claim.code, name: claim.name } });
  }
}

/** The unit's own parts that nobody has looked at: neither there nor lacking. */
function unseenOf(line: LineFacts): Decimal {
  if (!line.reusable) return zero;
  return notBelowZero(subtractDecimals(decimalFrom(line.needed), decimalFrom(line.lookedAt)));
}

function coverFromStock(filling: Filling, line: LineFacts, facts: CoverageFacts, supply: Supply): void {
  for (const lot of facts.stock) {
    if (filling.open <= zero) return;
    if (lot.partId !== line.partId || whyNot(lot, line, facts.today) !== null) continue;
    const taken = supply.takeStock(lot, filling.open);
    share(filling, 'free in stores', taken, { words: '', on: { id: lot.thingId, code: lot.code, name: lot.name } });
  }
}

function coverFromOrders(filling: Filling, line: LineFacts, facts: CoverageFacts, supply: Supply): void {
  for (const receipt of facts.receipts) {
    if (filling.open <= zero) return;
    if (receipt.partId !== line.partId) continue;
    const taken = supply.takeReceipt(receipt, filling.open);
    share(filling, 'on order', taken, { words: orderWords(receipt, facts.today), receipt });
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

/** Why a lot of the right part may not serve the line; null when it may. */
function whyNot(lot: StockFact, line: LineFacts, today: string): string | null {
  if (lot.condemned) return 'condemned';
  if (lot.heldBackReason !== null) return `held back: ${lot.heldBackReason}`;
  const stop = tooOld(lot, today) ?? notAccepted(lot, line);
  return stop === null ? null : stop.detail.replace(/ Nothing was changed\.$/, '');
}

function claimedElsewhere(lot: StockFact, own: readonly ClaimFact[]): Decimal {
  const ofThisJob = sumDecimals(own.filter((claim) => claim.thingId === lot.thingId).map((claim) => decimalFrom(claim.quantity)));
  return subtractDecimals(decimalFrom(lot.claimed), ofThisJob);
}

/** What was looked for and where, for a line that lacks something. */
function whereWasLooked(line: LineFacts, facts: CoverageFacts): string[] {
  const lots = facts.stock.filter((lot) => lot.partId === line.partId);
  const looked: string[] = [];
  if (lots.length === 0)
    looked.push(`In stores: none of ${line.number || line.name}, under this or any other number of the part.`);
  for (const lot of lots) {
    const reason = whyNot(lot, line, facts.today);
    const promised = claimedElsewhere(lot, facts.claims);
    if (reason !== null) looked.push(`${spoken(lot.code)}: ${reason}`);
    else if (promised > zero) looked.push(`${spoken(lot.code)}: ${formatDecimal(promised)} promised to another job.`);
    else looked.push(`${spoken(lot.code)}: all that is there is counted above.`);
  }
  const receipts = facts.receipts.filter((receipt) => receipt.partId === line.partId);
  looked.push(
    receipts.length === 0
      ? 'On order: nothing outstanding.'
      : `On order: ${receipts.map((receipt) => `${receipt.orderReference} of ${receipt.supplier}`).join(', ')}, counted above.`,
  );
  if (decimalFrom(line.lookedAt) > decimalFrom(line.reused))
    looked.push(`This unit’s own: ${(line.findingWords || 'not fit to be used again').replace(/\.$/, '')}.`);
  return looked;
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
