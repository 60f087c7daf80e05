import type { JobScan } from '@corewright/contracts/bench';
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
import type * as z from 'zod';
import { closedStates } from '../jobs/job.queries.js';
import type { Balance, Claim, LockedThing } from '../stores/ledger.js';
import { mayServe, type Stop } from './may-serve.js';
import type { JobForScan, LineForScan, ScannedThing } from './scan-facts.js';

export type ScanMode = 'pick' | 'fit';
export type JobScanInput = z.infer<typeof JobScan>;

/** Everything that the decision rests on, read under the locks of the job and of the thing. */
export interface ScanState {
  mode: ScanMode;
  input: JobScanInput;
  thing: ScannedThing;
  locked: LockedThing;
  balances: readonly Balance[];
  claims: readonly Claim[];
  job: JobForScan;
  /** lines of the scanned part, and the line that the person named */
  lines: readonly LineForScan[];
  today: string;
}

/** What is to be written; nothing has been written yet. */
export interface ScanPlan {
  /** null: a whole unit laid by for the job; 'further': a line that is made now */
  line: LineForScan | 'further' | null;
  quantity: Decimal;
  /** how many the books did not hold: found in a hand */
  found: Decimal;
  moves: { fromHolderId: string; quantity: Decimal }[];
  claimsLess: { claimId: string; quantity: Decimal }[];
  claimMore: Decimal;
  reused: boolean;
  inPlaceOf: { why: string; evidence: string } | null;
  overrideReason: string | null;
}

export interface ScanStop extends Stop {
  /** claimants that hold what is wanted */
  claimants: string[];
}

export type ScanDecision = { ok: true; value: ScanPlan } | { ok: false; error: ScanStop };

/** Whether a scan may do what its mode says, and what is then to be written. Pure: the same state gives the same answer. */
export function decideJobScan(state: ScanState): ScanDecision {
  const barred = barOf(state);
  if (barred) return stop(barred);
  if (state.thing.kind === 'U') return planUnit(state);
  const chosen = chooseLine(state);
  if (!chosen.ok) return chosen;
  const served = mayServe(state, chosen.value === 'further' ? null : chosen.value);
  const overridden = served !== null && state.mode === 'fit' && state.input.override !== undefined;
  if (served && !overridden) return stop(served);
  const amount = amountOf(state, chosen.value);
  if (!amount.ok) return amount;
  return {
    ok: true,
    value: {
      line: chosen.value,
      ...amount.value,
      ...claimChanges(state, chosen.value, amount.value.quantity),
      reused: state.mode === 'fit' && state.thing.componentOf === state.job.unitId,
      inPlaceOf: inPlaceOf(state, chosen.value),
      overrideReason: overridden ? (state.input.override?.reason ?? null) : null,
    },
  };
}

/** What no choice of the person's can open. */
function barOf({ job, thing, locked, mode }: ScanState): Stop | null {
  if (closedStates.includes(job.state))
    return {
      code: 'job-closed',
      title: 'The job is closed',
      detail: `This job is ${job.state}. Nothing can be scanned onto it; set it to building again first.`,
    };
  if (thing.kind === 'X')
    return {
      code: 'unnamed',
      title: 'Nobody has named it',
      detail: 'This is an unsorted box. Take out what you need, name it in Goods-in, and scan its own label.',
    };
  if (locked.condemned)
    return {
      code: 'condemned',
      title: 'Condemned',
      detail: 'This was condemned and cannot be used, whatever the reason. Dispose of it anew first.',
    };
  if (locked.ownerId !== null && locked.ownerId !== job.customerId)
    return {
      code: 'goods-of-another-customer',
      title: 'Not ours to use',
      detail: `This belongs to ${thing.ownerName ?? 'a customer'}. A customer's goods serve that customer's jobs only.`,
    };
  if (thing.id === job.unitId)
    return {
      code: 'cannot-be-fitted',
      title: 'The unit itself',
      detail: 'This is the unit that the job is about. Scan the parts that go into it.',
    };
  if (thing.kind === 'U' && mode === 'fit')
    return {
      code: 'cannot-be-fitted',
      title: 'A whole unit',
      detail:
        'A whole unit is not fitted into another. Pick it for the job, or take off the component that you need and scan its own tag.',
    };
  return null;
}

/** A whole unit can be laid by for a job, to give it parts. */
function planUnit(state: ScanState): ScanDecision {
  const amount = amountOf(state, null);
  if (!amount.ok) return amount;
  return {
    ok: true,
    value: {
      line: null,
      ...amount.value,
      ...claimChanges(state, null, amount.value.quantity),
      reused: false,
      inPlaceOf: null,
      overrideReason: null,
    },
  };
}

function chooseLine({
  input,
  lines,
  thing,
  mode,
}: ScanState): { ok: true; value: LineForScan | 'further' } | { ok: false; error: ScanStop } {
  const named = input.inPlaceOf?.lineId ?? input.lineId;
  const noun = thing.partNumber ? `${thing.name}, ${thing.partNumber}` : thing.name;
  if (named) {
    const line = lines.find((each) => each.id === named);
    if (!line)
      return stop({
        code: 'not-on-this-job',
        title: 'Not a line of this job',
        detail: 'That line is not one of this job. Choose one of its lines.',
      });
    if (line.partId !== thing.partId && !input.inPlaceOf) return stop(notOnJob(noun));
    return lineHasRoom(line, mode) ? { ok: true, value: line } : stop(lineFull([line], noun));
  }
  if (input.furtherLine) {
    return thing.partId
      ? { ok: true, value: 'further' }
      : stop({
          code: 'unnamed',
          title: 'Nobody has named it',
          detail: 'A further line needs a part. Name this lot in Stores first, or fit it in place of a line.',
        });
  }
  const ofPart = lines.filter((line) => line.partId === thing.partId && !line.waived);
  if (ofPart.length === 0)
    return stop(
      thing.partId
        ? notOnJob(noun)
        : {
            code: 'unnamed',
            title: 'Nobody has named it',
            detail: `"${noun}" has no part number in the books, so no line asks for it. Name it in Stores, or fit it in place of a line, in your name.`,
          },
    );
  const open = ofPart.find((line) => lineHasRoom(line, mode));
  return open ? { ok: true, value: open } : stop(lineFull(ofPart, noun));
}

function notOnJob(noun: string): Stop {
  return {
    code: 'not-on-this-job',
    title: 'Not on this job',
    detail: `No line of this job asks for ${noun}. Fit it in place of a line, or as a further line; nothing was changed.`,
  };
}

function lineFull(lines: readonly LineForScan[], noun: string): Stop {
  const words = lines.map((line) => `line ${line.lineNo} has its ${text(line.needed)}`).join(', ');
  return {
    code: 'line-is-full',
    title: 'The line is full',
    detail: `${noun}: ${words}. Nothing was changed. If one more is needed, say so as a further line.`,
  };
}

function lineHasRoom(line: LineForScan, mode: ScanMode): boolean {
  return roomOf(line, mode) > zero;
}

/** What a line still takes in this mode. A fit may use up what was picked for it. */
export function roomOf(line: LineForScan, mode: ScanMode): Decimal {
  const there = addDecimals(decimalFrom(line.fitted), decimalFrom(line.reused));
  const spoken = mode === 'pick' ? addDecimals(there, decimalFrom(line.picked)) : there;
  return notBelowZero(subtractDecimals(decimalFrom(line.needed), spoken));
}

interface Amount {
  quantity: Decimal;
  found: Decimal;
  moves: { fromHolderId: string; quantity: Decimal }[];
}

function amountOf(
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

function whyShort(state: ScanState, wanted: Decimal, there: Decimal): ScanStop {
  const { thing, locked } = state;
  const others = state.claims.filter((claim) => claim.claimantId !== state.job.id);
  if (others.length > 0)
    return {
      code: 'claimed-for-another-job',
      title: 'Promised to another job',
      detail: `${text(locked.held)} of this ${locked.held === '1.0000' ? 'is' : 'are'} held and ${formatDecimal(othersClaim(state))} promised elsewhere; ${formatDecimal(there)} left. Nothing was changed.`,
      claimants: [...new Set(others.map((claim) => claim.claimantId))],
    };
  if (there > zero)
    return {
      code: 'not-enough',
      title: 'Not so many',
      detail: `The books hold ${formatDecimal(there)} of this, and ${formatDecimal(wanted)} were asked for. Take ${formatDecimal(there)}, or say that you have them here.`,
      claimants: [],
    };
  const elsewhere = state.balances.find((balance) => !balance.counts && decimalFrom(balance.quantity) > zero);
  const where =
    thing.kind === 'L' || !elsewhere ? '' : elsewhere.kind === 'unit' ? ' It is in a unit.' : ` It is with: ${elsewhere.kind}.`;
  return {
    code: 'none-left',
    title: 'None left by the books',
    detail: `The books hold none of this any more.${where} If it is in your hand, say so: it is booked as found and stores will look at it.`,
    claimants: [],
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
function claimChanges(
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

function inPlaceOf({ input, thing }: ScanState, line: LineForScan | 'further'): ScanPlan['inPlaceOf'] {
  if (!input.inPlaceOf || line === 'further' || line.partId === thing.partId) return null;
  return { why: input.inPlaceOf.why, evidence: input.inPlaceOf.evidence };
}

function stop(error: Stop & { claimants?: string[] }): { ok: false; error: ScanStop } {
  return { ok: false, error: { claimants: [], ...error } };
}

function text(quantity: string): string {
  return formatDecimal(decimalFrom(quantity));
}
