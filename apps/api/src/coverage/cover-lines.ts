import { type CoveredLine, type CoverShare, type CoverState, coverStates } from '@corewright/contracts/coverage';
import {
  type Decimal,
  decimalFrom,
  formatDecimal,
  lesserDecimal,
  subtractDecimals,
  sumDecimals,
} from '@corewright/quantities/decimal';
import { formatPlainDate } from '@corewright/quantities/plain-date';
import { inHundred, yieldOf } from '@corewright/yields/component-yield';
import { spoken } from '../jobs/job.queries.js';
import type { Offer } from '../jobs/offers-for-line.js';
import type { FittedFact, ReceiptFact } from './coverage-facts.js';
import { whatIsElsewhere } from './elsewhere.js';
import { grouped } from './grouped.js';
import type { Given, SharedOut } from './share-out.js';
import type { Asking, Source } from './sources.js';
import { whereWasLooked } from './where-looked.js';

/**
 * What each line of a job is covered with, over all jobs that bear on it: what is in the unit, then what `shareOut` gives it, and what is
 * lacking after that. Where free stock lies is told by `withWhereabouts`.
 */
export function coverLines(shared: SharedOut, jobId: string): CoveredLine[] {
  return shared.asking.filter(({ job }) => job.id === jobId).map((asking) => coveredLine(asking, shared));
}

/** The same of every job at once. */
export function coverOfJobs(shared: SharedOut): ReadonlyMap<string, readonly CoveredLine[]> {
  const byJob = grouped(shared.asking, ({ job }) => job.id);
  return new Map([...byJob].map(([jobId, asking]) => [jobId, asking.map((each) => coveredLine(each, shared))]));
}

function coveredLine(asking: Asking, shared: SharedOut): CoveredLine {
  const { line } = asking;
  const { facts, index } = shared;
  const fittings = index.fittedInLine.get(line.id) ?? [];
  const shares = sharesOf(asking, fittings, shared.given.get(line.id) ?? [], facts.today);
  const lacks = shares.some((each) => each.state === 'lacking');
  return {
    id: line.id,
    lineNo: line.lineNo,
    part: { id: line.partId, name: line.name, number: line.number, unitOfMeasure: line.unitOfMeasure },
    needed: plain(line.needed),
    operationId: line.operationId,
    critical: line.critical && !line.consumable,
    reusable: line.reusable,
    further: line.further,
    waived: line.waived,
    consumable: line.consumable,
    version: line.version,
    state: worstOf(shares),
    shares,
    stops: line.critical && lacks,
    looked: lacks ? whereWasLooked(asking, shared) : [],
    elsewhere: shares.some(({ state }) => isYetToCome(state)) ? whatIsElsewhere(asking, shared) : [],
    substitutes: asking.substitutes.map(({ lineId: _line, ...substitute }) => substitute),
    fittedFrom: fittings.map(({ lineId: _line, thingId, code, name, quantity, ...rest }) => ({
      ...rest,
      thing: { id: thingId, code, name },
      quantity: plain(quantity),
    })),
  };
}

function isYetToCome(state: CoverState): boolean {
  return coverStates.indexOf(state) >= coverStates.indexOf('at an outworker');
}

function sharesOf({ line, open }: Asking, fittings: readonly FittedFact[], given: readonly Given[], today: string): CoverShare[] {
  const needed = decimalFrom(line.needed);
  const fitted = lesserDecimal(needed, decimalFrom(line.fitted));
  const reused = lesserDecimal(subtractDecimals(needed, fitted), decimalFrom(line.reused));
  const lacking = subtractDecimals(open, sumDecimals(given.map(({ quantity }) => quantity)));
  return [
    share('fitted', fitted, { words: fittings.map((fitting) => spoken(fitting.code)).join(', ') }),
    share('re-used', reused, { words: line.findingWords || 'from this unit' }),
    ...given.map((each) => share(stateOf(each.source), each.quantity, { ...factsOf(each.source, today), offer: each.offer })),
    share('lacking', lacking, { words: '' }),
  ].filter(({ quantity }) => quantity !== '0');
}

interface ShareFacts {
  words: string;
  reservation?: CoverShare['reservation'];
  on?: { id: string; code: string; name: string };
  receipt?: ReceiptFact;
  offer?: Offer | null;
}

const reservable: readonly CoverState[] = ['free in stores', 'at an outworker', 'on order'];

function share(state: CoverState, quantity: Decimal, { words, on, receipt, offer, reservation }: ShareFacts): CoverShare {
  return {
    state,
    quantity: formatDecimal(quantity),
    on: on ?? null,
    receiptId: receipt?.id ?? null,
    dueOn: receipt?.dueOn ?? null,
    confirmed: receipt?.confirmed ?? null,
    words,
    instead: offer?.instead ?? null,
    reservation: reservation ?? null,
    canReserve: reservable.includes(state) && !reservation && offer?.instead?.isAccepted !== false,
  };
}

function stateOf(source: Source): CoverState {
  switch (source.kind) {
    case 'claimed':
      if (source.claim.inTray) return 'picked';
      return source.claim.firm === null ? 'reserved' : 'at an outworker';
    case 'not looked at':
      return 'not yet looked at';
    case 'lot':
      return 'free in stores';
    case 'away':
      return 'at an outworker';
    case 'order':
      return 'on order';
    case 'core':
      return 'from a core';
  }
}

function factsOf(source: Source, today: string): ShareFacts {
  switch (source.kind) {
    case 'claimed': {
      const { claimId, thingId, code, name, where, inTray, until } = source.claim;
      const reservation = inTray ? null : { claimId, expectedClaimId: null, until };
      return { words: where, on: { id: thingId, code, name }, reservation };
    }
    case 'not looked at':
      return {
        words: source.line.ownAway === '' ? 'this unit’s own has not been looked at' : `this unit’s own: ${source.line.ownAway}`,
      };
    case 'lot': {
      const { thingId, code, name, ofCore } = source.lot;
      return { words: ofCore === undefined ? '' : 'out of this core, if it is broken', on: { id: thingId, code, name } };
    }
    case 'away': {
      const { thingId, code, name, firm } = source.away;
      return { words: `with ${firm}, no date given`, on: { id: thingId, code, name } };
    }
    case 'order':
      return { words: orderWords(source.receipt, today), receipt: source.receipt, reservation: reservedOf(source.receipt) };
    case 'core': {
      const { unitId, code, name, serviceable, looked } = source.donor;
      const { least, most } = inHundred(yieldOf({ serviceable, looked }));
      return {
        words: `not stripped yet; ${serviceable} of ${looked} looked at ${serviceable === 1 ? 'was' : 'were'} serviceable, ${least} to ${most} in a hundred`,
        on: { id: unitId, code, name },
      };
    }
  }
}

function reservedOf({ reserved }: ReceiptFact): CoverShare['reservation'] {
  return reserved === null ? null : { claimId: null, expectedClaimId: reserved.claimId, until: reserved.until };
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

/** How many lines stand in each state, each line counted by its worst; those of consumables in none. */
export function countStates(lines: readonly CoveredLine[]): Record<string, number> {
  const counts = Object.fromEntries(coverStates.map((state) => [state, 0]));
  for (const line of lines) if (!line.consumable) counts[line.state] = (counts[line.state] ?? 0) + 1;
  return counts;
}

/** Whether every line is in the unit, waived, or of a consumable. */
export function isComplete(lines: readonly CoveredLine[]): boolean {
  return lines.every(
    (line) =>
      line.waived !== null ||
      line.consumable ||
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
