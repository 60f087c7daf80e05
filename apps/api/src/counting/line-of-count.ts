import type { CountLineState } from '@corewright/contracts/counting';
import {
  compareDecimals,
  type Decimal,
  formatDecimal,
  subtractDecimals,
  sumDecimals,
  zero,
} from '@corewright/quantities/decimal';
import { type BooksThen, booksAt, type Moved, putRight } from './books-at.js';

/** One entry as it was made. */
export interface Entry {
  id: string;
  sequence: number;
  personId: string;
  by: string;
  /** Unix milliseconds */
  at: number;
  recordedAt: number;
  /** null: seen, and nobody has keyed how many */
  quantity: Decimal | null;
  /** the counter was asked to key the number once more, and has not */
  isUnsure: boolean;
  /** everybody had looked before, and they looked once more all the same */
  inOwnName: boolean;
}

export interface Closing {
  personId: string;
  by: string;
  at: number;
  recordedAt: number;
  inOwnName: boolean;
}

/** All that is known of a thing at a place in a count. */
export interface LineFacts {
  /** a unit, a component, a box: there is one of it */
  isSingle: boolean;
  /** those that were not struck out, in any order */
  entries: readonly Entry[];
  /** when somebody said that everything there is scanned, in any order */
  closings: readonly Closing[];
  moved: readonly Moved[];
  /** when a second look was asked for last; null where none was */
  againAt: number | null;
}

/** What may be taken as counted: of one person's entry, or of several together. */
export interface Taken {
  quantity: Decimal;
  words: string;
  personId: string;
  /** Unix milliseconds */
  at: number;
  books: Decimal;
  /** counted less books less what this count has put right: what is still to be decided */
  difference: Decimal;
}

export interface CountedLine {
  state: Exclude<CountLineState, 'lies elsewhere by the books'>;
  /** the entries that stand, oldest first */
  standing: readonly Entry[];
  taken: readonly Taken[];
}

/**
 * How a thing at a place stands in a count; null where it is none of its lines: the books have none there and nobody scanned it. The last
 * entry of each person stands, from the last time on that a second look was asked for.
 */
export function lineOf(facts: LineFacts): CountedLine | null {
  const { entries, closings, againAt } = facts;
  const since = againAt ?? Number.NEGATIVE_INFINITY;
  const standing = standingOf(entries.filter(({ recordedAt }) => recordedAt > since));
  const closing = latest(closings.filter(({ recordedAt }) => recordedAt > since));
  if (standing.length > 0) return counted(facts, standing);
  if (closing !== undefined) return unscanned(facts, closing);
  if (againAt === null) return null;
  return { state: 'to be counted again', standing: [], taken: [] };
}

function counted(facts: LineFacts, standing: readonly Entry[]): CountedLine {
  if (standing.some(({ quantity }) => quantity === null)) return { state: 'no number keyed', standing, taken: [] };
  const taken = standing.map((entry) => takenOf(facts, entry, entry.quantity ?? zero, `by ${whoseLook(entry)}`));
  if (standing.some(({ isUnsure }) => isUnsure)) return { state: 'to be keyed once more', standing, taken };
  if (standing.length > 1 && !facts.isSingle) return ofSeveral(facts, standing, taken);
  return ofOne(facts, standing, taken.slice(-1));
}

/** Several have counted the same: nobody knows whether they shared it out, so nothing is added up until somebody says so. */
function ofSeveral(facts: LineFacts, standing: readonly Entry[], taken: readonly Taken[]): CountedLine {
  if (taken.every(({ difference }) => difference === zero)) return { state: 'agrees', standing, taken: taken.slice(-1) };
  const last = standing.at(-1) as Entry;
  const sum = sumDecimals(standing.map(({ quantity }) => quantity ?? zero));
  const choices = [...taken, takenOf(facts, last, sum, 'together, had they shared it out')];
  const settled = choices.find(({ difference }) => difference === zero && putRight(facts.moved) !== zero);
  if (settled !== undefined) return { state: 'agrees', standing, taken: [settled] };
  return { state: 'counted twice', standing, taken: choices };
}

function ofOne(facts: LineFacts, standing: readonly Entry[], [one]: readonly Taken[]): CountedLine {
  const taken = one as Taken;
  if (taken.difference === zero) return { state: 'agrees', standing, taken: [taken] };
  if (booksAt(facts.moved, taken.at).otherwise !== null) return { state: 'taken back meanwhile', standing, taken: [taken] };
  if (compareDecimals(taken.difference, zero) > 0) return { state: 'found', standing, taken: [taken] };
  return { state: taken.quantity === zero ? 'missing' : 'short', standing, taken: [taken] };
}

/** Everything there is scanned, and this was not. */
function unscanned(facts: LineFacts, closing: Closing): CountedLine | null {
  const taken = takenOf(
    facts,
    closing,
    zero,
    `nobody scanned it; ${whoseLook(closing)}${closing.inOwnName ? ',' : ''} said that everything is`,
  );
  if (taken.books === zero && taken.difference === zero) return null;
  return ofOne(facts, [], [taken]);
}

function takenOf(facts: LineFacts, seen: { personId: string; at: number }, quantity: Decimal, words: string): Taken {
  const books = nearest(booksAt(facts.moved, seen.at), quantity);
  const difference = subtractDecimals(subtractDecimals(quantity, books), putRight(facts.moved));
  return { quantity, words: `${formatDecimal(quantity)} ${words}`, personId: seen.personId, at: seen.at, books, difference };
}

function whoseLook({ by, inOwnName }: Pick<Entry, 'by' | 'inOwnName'>): string {
  return inOwnName ? `${by}, who had looked before` : by;
}

function nearest({ held, otherwise }: BooksThen, quantity: Decimal): Decimal {
  return otherwise === quantity ? otherwise : held;
}

/** The last entry of each person, oldest first. */
function standingOf(entries: readonly Entry[]): Entry[] {
  const last = new Map<string, Entry>();
  for (const entry of entries.toSorted(byTime)) last.set(entry.personId, entry);
  return [...last.values()].toSorted(byTime);
}

function byTime(one: Entry, other: Entry): number {
  return one.at - other.at || one.sequence - other.sequence;
}

function latest(closings: readonly Closing[]): Closing | undefined {
  return closings.toSorted((one, other) => one.at - other.at).at(-1);
}
