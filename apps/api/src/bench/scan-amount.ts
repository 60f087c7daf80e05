import {
  addDecimals,
  type Decimal,
  decimalFrom,
  formatDecimal,
  lesserDecimal,
  notBelowZero,
  subtractDecimals,
  sumDecimals,
  zero,
} from '@corewright/quantities/decimal';
import { checkQuantity } from '@corewright/quantities/unit-of-measure';
import type { Balance } from '../stores/ledger.js';
import { roomOf } from './choose-line.js';
import type { Stop } from './may-serve.js';
import type { LineForScan } from './scan-facts.js';
import { type ScanPlan, type ScanState, type ScanStop, stop } from './scan-state.js';

interface Amount {
  quantity: Decimal;
  found: Decimal;
  moves: { fromHolderId: string; quantity: Decimal }[];
}

/** How many a scan takes and from where: what was keyed, else what the line still needs, as far as it is there. */
export function amountOf(
  state: ScanState,
  line: LineForScan | 'further' | null,
): { ok: true; value: Amount } | { ok: false; error: ScanStop } {
  const { input, thing, mode } = state;
  const keyed = input.quantity === undefined ? null : checkQuantity(input.quantity, thing.unitOfMeasure);
  if (keyed && !keyed.ok) return stop({ code: 'not-enough', title: 'Not a quantity', detail: keyed.error.sentence });
  const room = line === null || line === 'further' ? null : roomOf(line, mode);
  if (keyed && room !== null && keyed.value > room)
    return stop({
      code: 'line-is-full',
      title: 'More than the line takes',
      detail: `Line ${(line as LineForScan).lineNo} still takes ${formatDecimal(room)}, and ${formatDecimal(keyed.value)} were keyed. Key ${formatDecimal(room)} or fewer, or add a further line.`,
    });
  const wanted = keyed?.value ?? room ?? decimalFrom('1');
  const there = availableOf(state);
  const short = notBelowZero(subtractDecimals(wanted, there));
  if (short === zero) return { ok: true, value: { quantity: wanted, found: zero, moves: takenFrom(state, wanted) } };
  if (input.haveItHere) return found(state, wanted, there);
  if (there > zero && !keyed) return { ok: true, value: { quantity: there, found: zero, moves: takenFrom(state, there) } };
  return stop(whyShort(state, wanted, there));
}

/** A part that the books deny is in somebody's hand: what is short is found, then the act. */
function found(state: ScanState, wanted: Decimal, there: Decimal): { ok: true; value: Amount } | { ok: false; error: ScanStop } {
  if (state.thing.kind !== 'L' || othersClaim(state) > zero) return stop(whyShort(state, wanted, there));
  const quantity = state.input.quantity === undefined && there > zero ? there : wanted;
  return {
    ok: true,
    value: {
      quantity,
      found: notBelowZero(subtractDecimals(quantity, there)),
      moves: takenFrom(state, lesserDecimal(quantity, there)),
    },
  };
}

function whyShort(state: ScanState, wanted: Decimal, there: Decimal): Stop & Partial<Omit<ScanStop, keyof Stop>> {
  const { thing, locked } = state;
  const others = state.claims.filter((claim) => claim.claimantId !== state.job.id);
  if (others.length > 0)
    return {
      code: 'claimed-for-another-job',
      title: 'Promised to another job',
      detail: `${formatDecimal(decimalFrom(locked.held))} of this ${locked.held === '1.0000' ? 'is' : 'are'} held and ${formatDecimal(othersClaim(state))} promised elsewhere; ${formatDecimal(there)} left. Nothing was changed.`,
      claimants: [...new Set(others.map((claim) => claim.claimantId))],
      toFree: toFreeOf(state, wanted, there),
    };
  if (there > zero)
    return {
      code: 'not-enough',
      title: 'Not so many',
      detail: `The books hold ${formatDecimal(there)} of this, and ${formatDecimal(wanted)} were asked for. Take ${formatDecimal(there)}, or say that you have them here.`,
    };
  const elsewhere = state.balances.find((balance) => !balance.counts && decimalFrom(balance.quantity) > zero);
  const where =
    thing.kind === 'L' || !elsewhere ? '' : elsewhere.kind === 'unit' ? ' It is in a unit.' : ` It is with: ${elsewhere.kind}.`;
  return {
    code: 'none-left',
    title: 'None left by the books',
    detail: `The books hold none of this any more.${where} If it is in your hand, say so: it is booked as found and stores will look at it.`,
  };
}

/** What was keyed is taken whole or not at all; without a number, as many as lie here. */
function toFreeOf(state: ScanState, wanted: Decimal, there: Decimal): Decimal | null {
  const inReach = sumDecimals(holdersToTakeFrom(state).map((balance) => decimalFrom(balance.quantity)));
  const taken = state.input.quantity === undefined ? lesserDecimal(wanted, inReach) : wanted;
  return taken <= there || taken > inReach ? null : subtractDecimals(taken, there);
}

function othersClaim({ claims, job }: ScanState): Decimal {
  return sumDecimals(claims.filter((claim) => claim.claimantId !== job.id).map((claim) => decimalFrom(claim.quantity)));
}

/** Where this job may take from, in this order: its own tray (when fitting), then the places; never another job's tray. */
function holdersToTakeFrom({ balances, job, mode }: ScanState): Balance[] {
  const tray = balances.filter((balance) => balance.holderId === job.trayId);
  const places = balances.filter((balance) => balance.kind === 'place');
  return mode === 'fit' ? [...tray, ...places] : places;
}

function availableOf(state: ScanState): Decimal {
  const inReach = sumDecimals(holdersToTakeFrom(state).map((balance) => decimalFrom(balance.quantity)));
  const ownTray =
    state.mode === 'pick'
      ? sumDecimals(
          state.balances
            .filter((balance) => balance.holderId === state.job.trayId)
            .map((balance) => decimalFrom(balance.quantity)),
        )
      : zero;
  const notPromised = notBelowZero(subtractDecimals(subtractDecimals(oursOf(state), othersClaim(state)), ownTray));
  return lesserDecimal(inReach, notPromised);
}

function takenFrom(state: ScanState, quantity: Decimal): { fromHolderId: string; quantity: Decimal }[] {
  const moves: { fromHolderId: string; quantity: Decimal }[] = [];
  let left = quantity;
  for (const balance of holdersToTakeFrom(state)) {
    const part = lesserDecimal(left, decimalFrom(balance.quantity));
    if (part > zero) moves.push({ fromHolderId: balance.holderId, quantity: part });
    left = subtractDecimals(left, part);
  }
  return moves;
}

/** Held, or at an outworker from whom it comes back: what claims may count on. */
function oursOf({ locked }: ScanState): Decimal {
  return addDecimals(decimalFrom(locked.held), decimalFrom(locked.awaited));
}

/** So much of a claim of this job does not lie in its tray. What lies there is what was claimed first. */
export function idleOwnClaims({ claims, balances, job }: Pick<ScanState, 'claims' | 'balances' | 'job'>): IdleOwn[] {
  let inTray = sumDecimals(
    balances.filter((balance) => balance.holderId === job.trayId).map((balance) => decimalFrom(balance.quantity)),
  );
  return claims
    .filter((claim) => claim.claimantId === job.id)
    .map((claim) => {
      const claimed = decimalFrom(claim.quantity);
      const laidBy = lesserDecimal(claimed, inTray);
      inTray = subtractDecimals(inTray, laidBy);
      return { claimId: claim.id, lineId: claim.purposeId, idle: subtractDecimals(claimed, laidBy) };
    });
}

export interface IdleOwn {
  claimId: string;
  lineId: string | null;
  idle: Decimal;
}

type ClaimChanges = Pick<ScanPlan, 'claimsLess' | 'claimMore' | 'outOfReserved'>;

/** A pick claims what it lays by; a fit uses up this job's claims, those of the line first. */
export function claimChanges(state: ScanState, line: LineForScan | 'further' | null, amount: Amount): ClaimChanges {
  const lineId = line !== null && line !== 'further' ? line.id : null;
  return state.mode === 'pick' ? changesOfPick(state, lineId, amount) : changesOfFit(state, lineId, amount);
}

/** What nobody has claimed, with what was found just now. */
function freeWith(state: ScanState, found: Decimal): Decimal {
  return addDecimals(notBelowZero(subtractDecimals(oursOf(state), decimalFrom(state.locked.claimed))), found);
}

/** What the job reserved for the line, or for none, is picked first; what it reserved for other lines only where nothing else is free. */
function changesOfPick(state: ScanState, lineId: string | null, { quantity, found }: Amount): ClaimChanges {
  const idle = idleOwnClaims(state);
  const isForLine = (claim: IdleOwn) => claim.lineId === lineId || claim.lineId === null;
  const forLine = lesserDecimal(quantity, sumDecimals(idle.filter(isForLine).map((claim) => claim.idle)));
  const more = subtractDecimals(quantity, forLine);
  const others = idle.filter((claim) => !isForLine(claim));
  const { claimsLess, taken } = takenFromClaims(others, notBelowZero(subtractDecimals(more, freeWith(state, found))));
  return { claimsLess, claimMore: more, outOfReserved: addDecimals(forLine, taken) };
}

function changesOfFit(state: ScanState, lineId: string | null, { quantity, found, moves }: Amount): ClaimChanges {
  const own = state.claims.filter((claim) => claim.claimantId === state.job.id);
  const all = own.map((claim) => ({ claimId: claim.id, lineId: claim.purposeId, idle: decimalFrom(claim.quantity) }));
  const isForLine = (claim: IdleOwn) => claim.lineId === lineId || claim.lineId === null;
  const first = takenFromClaims(
    all.filter(isForLine).toSorted((a, b) => Number(b.lineId === lineId) - Number(a.lineId === lineId)),
    quantity,
  );
  const outOfTray = sumDecimals(moves.filter((step) => step.fromHolderId === state.job.trayId).map((step) => step.quantity));
  const atLeast = greaterDecimal(outOfTray, notBelowZero(subtractDecimals(quantity, freeWith(state, found))));
  const further = takenFromClaims(
    all.filter((claim) => !isForLine(claim)),
    notBelowZero(subtractDecimals(atLeast, first.taken)),
  );
  const taken = addDecimals(first.taken, further.taken);
  return {
    claimsLess: [...first.claimsLess, ...further.claimsLess],
    claimMore: zero,
    outOfReserved: notBelowZero(subtractDecimals(taken, outOfTray)),
  };
}

function takenFromClaims(claims: readonly IdleOwn[], quantity: Decimal): { claimsLess: ScanPlan['claimsLess']; taken: Decimal } {
  const claimsLess: ScanPlan['claimsLess'] = [];
  let left = quantity;
  for (const claim of claims) {
    const part = lesserDecimal(left, claim.idle);
    if (part > zero) claimsLess.push({ claimId: claim.claimId, quantity: part });
    left = subtractDecimals(left, part);
  }
  return { claimsLess, taken: subtractDecimals(quantity, left) };
}

function greaterDecimal(a: Decimal, b: Decimal): Decimal {
  return a > b ? a : b;
}
