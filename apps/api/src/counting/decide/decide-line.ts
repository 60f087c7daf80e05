import type { DecideCountLine } from '@corewright/contracts/counting';
import {
  compareDecimals,
  type Decimal,
  decimalFrom,
  formatDecimal,
  lesserDecimal,
  parseQuantity,
  subtractDecimals,
  sumDecimals,
  zero,
} from '@corewright/quantities/decimal';
import { done, type Result, refused } from '../../platform/refusal.js';
import { type LeavingClaim, leavingClaims } from '../../stores/leaving-claims.js';
import { isManyTimes } from '../enter/plausible.js';
import type { Taken } from '../line-of-count.js';
import type { Line } from '../lines.js';
import type { InTray } from './in-tray.js';
import { offersOf, whyOf } from './offers.js';

/** What a decision comes to. */
export type LinePlan =
  | { kind: 'out'; quantity: Decimal; taken: Taken; leaving: readonly LeavingClaim[] }
  | { kind: 'in'; quantity: Decimal; taken: Taken }
  | { kind: 'move'; quantity: Decimal; fromPlaceId: string; taken: Taken }
  | { kind: 'missing'; taken: Taken }
  | { kind: 'again' | 'left'; taken: Taken | null };

export interface LineToDecide {
  line: Line;
  input: DecideCountLine;
  /** what jobs count on it are called */
  claimants: readonly string[];
  /** what the job of the tray claims of it; null where it lies in no tray */
  inTray: InTray | null;
}

/** Whether a line of a count may be decided so, and what that moves. What is decided is decided on what was seen. */
export function decideLine({ line, input, claimants, inTray }: LineToDecide): Result<LinePlan> {
  if (!line.isOpen)
    return stopped('line-decided', 'Decided already', 'This line agrees with the books by now, or somebody has decided on it.');
  if (!offersOf(line).includes(input.decision)) return notOffered(line);
  if (input.decision === 'again') return done({ kind: 'again', taken: null });
  if (input.decision === 'leave')
    return input.why === ''
      ? stopped('why-missing', 'No reason', 'Say why it is left as it is.')
      : done({ kind: 'left', taken: null });
  const taken = chosen(line, input);
  if (taken === null)
    return stopped(
      'changed-meanwhile',
      'Changed meanwhile',
      'What was counted, or what the books held, is not what you saw. Look at the line again.',
    );
  if (input.decision === 'missing') return done({ kind: 'missing', taken });
  if (needsTyping(line, taken) && !isTyped(input.typed, taken.quantity))
    return stopped(
      'type-the-number',
      'Hard to believe',
      `${formatDecimal(taken.quantity)} were counted where the books held ${formatDecimal(taken.books)}. Type the number that was counted to post it all the same, or have it counted again.`,
    );
  if (input.decision === 'move') return moved(line, input, taken);
  return posted(line, taken, { claimants, inTray });
}

/** What is taken as counted, if it is still what was seen. */
function chosen({ counted }: Line, input: DecideCountLine): Taken | null {
  const found = counted.taken.find(
    ({ quantity, books }) => formatDecimal(quantity) === input.counted && formatDecimal(books) === input.books,
  );
  return found ?? null;
}

/** So much more than the books had, or a number that its counter never keyed a second time. */
export function needsTyping({ state }: Pick<Line, 'state'>, { quantity, books }: Taken): boolean {
  return state === 'to be keyed once more' || isManyTimes(quantity, books);
}

function isTyped(typed: string, quantity: Decimal): boolean {
  const read = parseQuantity(typed);
  return read.ok && read.value === quantity;
}

function posted(line: Line, taken: Taken, { claimants, inTray }: Pick<LineToDecide, 'claimants' | 'inTray'>): Result<LinePlan> {
  const { difference } = taken;
  if (difference === zero) return stopped('agrees', 'No difference', 'That is what the books hold: there is nothing to post.');
  const isMore = compareDecimals(difference, zero) > 0;
  if (isMore && inTray !== null) return stopped('more-in-a-tray', 'More in the tray', whyOf({ ...line, state: 'found' }));
  if (isMore) return done({ kind: 'in', quantity: difference, taken });
  const { thing } = line;
  if (thing.ownerId !== null) return stopped('customers-goods', 'A customer’s goods', whyOf({ ...line, state: 'short' }));
  const lost = subtractDecimals(zero, difference);
  const there = decimalFrom(line.there);
  if (lost > there)
    return stopped(
      'gone-meanwhile',
      'Gone meanwhile',
      `${formatDecimal(lost)} are short, and by the books ${formatDecimal(there)} lie there by now: what was taken since was not among those counted. Have it counted again.`,
    );
  const left = subtractDecimals(sumDecimals([thing.held, thing.awaited].map(decimalFrom)), lost);
  const leaving = inTray === null ? [] : leavingClaims(inTray.claims, there, lost, zero);
  const claimed = subtractDecimals(decimalFrom(thing.claimed), sumDecimals(leaving.map(({ quantity }) => quantity)));
  if (claimed > left)
    return stopped(
      'in-use',
      'Reserved for a job',
      `${formatDecimal(claimed)} of ${thing.name} are reserved${claimants.length === 0 ? '' : ` for ${claimants.join(' and ')}`}, and ${formatDecimal(left)} would be left. Release what is reserved first, on the page of the job, or mark it as not found.`,
    );
  return done({ kind: 'out', quantity: lost, taken, leaving });
}

function moved(line: Line, { fromPlaceId }: DecideCountLine, taken: Taken): Result<LinePlan> {
  const from =
    line.elsewhere.find(({ placeId }) => placeId === fromPlaceId) ?? (fromPlaceId === null ? line.elsewhere[0] : undefined);
  if (from === undefined)
    return stopped(
      'not-there-either',
      'Not there by the books',
      'By the books none of it lies in that place any more. Look at the line again.',
    );
  const quantity = lesserDecimal(taken.difference, decimalFrom(from.quantity));
  return done({ kind: 'move', quantity, fromPlaceId: from.placeId, taken });
}

function notOffered(line: Line): Result<never> {
  return stopped('cannot-be-decided-so', 'Not so', whyOf(line));
}

function stopped(code: string, title: string, words: string): { ok: false; error: Parameters<typeof refused>[0] } {
  return refused({ status: 409, code, title, detail: `${words} Nothing was changed.` });
}
