import type { CountLine } from '@corewright/contracts/counting';
import type { Reader } from '../platform/database/database.js';
import {
  type CountFacts,
  keyOf,
  type LastDecision,
  type LiesAt,
  type LineKey,
  placesOf,
  readCount,
  type ThingOfLine,
} from './line.queries.js';
import { type CountedLine, lineOf, type Taken } from './line-of-count.js';

/** A line of a count with all that a decision on it needs. */
export interface Line extends LineKey {
  state: CountLine['state'];
  counted: CountedLine;
  thing: ThingOfLine;
  /** it lies in the tray of a job */
  isTray: boolean;
  /** other places of the stores in which the books have it now */
  elsewhere: readonly LiesAt[];
  /** how many the books have at this place now */
  there: string;
  /** how many decisions there were */
  turns: number;
  /** what was decided and stands; null where nothing was, or something new came since */
  decided: LastDecision | null;
  isOpen: boolean;
}

/**
 * The lines of those places of which somebody has said that everything is scanned: until then nothing is compared, so that a count stays blind
 * for whoever keeps the books as well.
 * @param thingId those of one thing alone; null: of all
 */
export async function readLines(
  reader: Reader,
  count: { id: string; partId: string | null },
  thingId: string | null = null,
): Promise<{ lines: Line[]; facts: CountFacts; notClosed: string[] }> {
  const facts = await readCount(reader, count.id, { partId: count.partId, thingId });
  const closed = facts.lines.filter(({ placeId }) => facts.closings.has(placeId));
  const found = closed.flatMap((key) => {
    const counted = countedLine(facts, key);
    return counted === null ? [] : [{ key, counted }];
  });
  const lie = await placesOf(reader, [...new Set(found.map(({ key }) => key.thingId))]);
  const lines = found.flatMap(({ key, counted }) => {
    const thing = facts.things.get(key.thingId);
    return thing === undefined
      ? []
      : [lineShown(facts, key, { counted, thing, lies: lie.filter(({ thingId }) => thingId === key.thingId) })];
  });
  const notClosed = [...facts.places.values()].filter(({ id }) => !facts.closings.has(id)).map(({ name }) => name);
  return { lines, facts, notClosed };
}

function countedLine(facts: CountFacts, key: LineKey): CountedLine | null {
  const decisions = facts.decisions.get(keyOf(key)) ?? [];
  const again = decisions.findLast(({ decision }) => decision === 'again');
  return lineOf({
    isSingle: facts.things.get(key.thingId)?.kind !== 'L',
    entries: facts.entries.get(keyOf(key)) ?? [],
    closings: facts.closings.get(key.placeId) ?? [],
    moved: facts.moved.get(keyOf(key)) ?? [],
    againAt: again === undefined ? null : Date.parse(again.at),
  });
}

function lineShown(
  facts: CountFacts,
  key: LineKey,
  { counted, thing, lies }: { counted: CountedLine; thing: ThingOfLine; lies: readonly LiesAt[] },
): Line {
  const decisions = facts.decisions.get(keyOf(key)) ?? [];
  const elsewhere = lies.filter(({ placeId, isTray }) => placeId !== key.placeId && !isTray);
  const state = counted.state === 'found' && elsewhere.length > 0 ? 'lies elsewhere by the books' : counted.state;
  const last = decisions.at(-1) ?? null;
  const decided = last !== null && stands(last, facts, key, counted) ? last : null;
  const isLeft = decided !== null && ['missing', 'left'].includes(decided.decision);
  return {
    ...key,
    state,
    counted,
    thing,
    isTray: facts.places.get(key.placeId)?.isTray ?? false,
    elsewhere,
    there: lies.find(({ placeId }) => placeId === key.placeId)?.quantity ?? '0',
    turns: decisions.length,
    decided,
    isOpen: state !== 'agrees' && !isLeft,
  };
}

/** What was left or marked stands until somebody counts it anew; what was posted or moved, until it is taken back. */
function stands({ decision, at }: LastDecision, facts: CountFacts, key: LineKey, { standing }: CountedLine): boolean {
  if (decision === 'again' || decision === 'taken back') return false;
  if (decision === 'posted' || decision === 'moved') return true;
  const since = Date.parse(at);
  const closings = standing.length > 0 ? [] : (facts.closings.get(key.placeId) ?? []);
  return ![...standing, ...closings].some(({ recordedAt }) => recordedAt > since);
}

/** The one that is taken as counted where nobody is in doubt; null where somebody must choose. */
export function takenOf({ counted }: Pick<Line, 'counted'>): Taken | null {
  return counted.taken.length === 1 ? (counted.taken[0] ?? null) : null;
}
