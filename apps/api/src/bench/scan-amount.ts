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

function whyShort(state: ScanState, wanted: Decimal, there: Decimal): Stop & Partial<Pick<ScanStop, 'claimants'>> {
  const { thing, locked } = state;
  const others = state.claims.filter((claim) => claim.claimantId !== state.job.id);
  if (others.length > 0)
    return {
      code: 'claimed-for-another-job',
      title: 'Promised to another job',
      detail: `${formatDecimal(decimalFrom(locked.held))} of this ${locked.held === '1.0000' ? 'is' : 'are'} held and ${formatDecimal(othersClaim(state))} promised elsewhere; ${formatDecimal(there)} left. Nothing was changed.`,
      claimants: [...new Set(others.map((claim) => claim.claimantId))],
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
  const notPromised = notBelowZero(
    subtractDecimals(subtractDecimals(decimalFrom(state.locked.held), othersClaim(state)), ownTray),
  );
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

/** A pick claims what it lays by; a fit uses up this job's claims, those of the line first. */
export function claimChanges(
  state: ScanState,
  line: LineForScan | 'further' | null,
  quantity: Decimal,
): Pick<ScanPlan, 'claimsLess' | 'claimMore'> {
  const lineId = line !== null && line !== 'further' ? line.id : null;
  const own = state.claims.filter((claim) => claim.claimantId === state.job.id);
  if (state.mode === 'pick') {
    const inTray = sumDecimals(
      state.balances.filter((balance) => balance.holderId === state.job.trayId).map((balance) => decimalFrom(balance.quantity)),
    );
    const claimed = sumDecimals(own.map((claim) => decimalFrom(claim.quantity)));
    const idle = notBelowZero(subtractDecimals(claimed, inTray));
    return { claimsLess: [], claimMore: notBelowZero(subtractDecimals(quantity, idle)) };
  }
  const claimsLess: ScanPlan['claimsLess'] = [];
  let left = quantity;
  for (const claim of own.toSorted((a, b) => Number(b.purposeId === lineId) - Number(a.purposeId === lineId))) {
    const part = lesserDecimal(left, decimalFrom(claim.quantity));
    if (part > zero) claimsLess.push({ claimId: claim.id, quantity: part });
    left = subtractDecimals(left, part);
  }
  return { claimsLess, claimMore: zero };
}
