import type { Transaction } from '../../platform/commands/unit-of-work.js';
import type { Reader } from '../../platform/database/database.js';
import type { Refusal } from '../../platform/refusal.js';

/** Somebody looked: they counted the thing, or said that everything at its place is scanned. */
export interface Look {
  personId: string;
  by: string;
  recordedAt: string;
  /** everybody had looked before, and they looked once more all the same */
  inOwnName: boolean;
}

/** What was entered at a place of a thing before, and whether a second look was asked for. */
export interface Before {
  /** oldest first, without those that were struck out */
  entries: (Look & { quantity: string | null; asked: string })[];
  closings: Look[];
  /** when a second look was asked for; null where the last decision is another */
  againAt: string | null;
}

/** Whose look it may be: this person's, another's, or anybody's in their own name; and who has looked. */
export interface WhoLooks {
  may: 'look' | 'leave it to another' | 'look in their own name';
  looked: readonly string[];
  /** who works with things and has not looked */
  fresh: readonly string[];
}

export interface Hand {
  id: string;
  name: string;
}

/**
 * Who may look where a second look was asked for:
 *
 * 1. Whoever has not looked at the thing there in this count may: they have seen nothing yet that they would see again.
 * 2. Whoever has looked leaves it to those who have not, as long as one of them works here.
 * 3. Where everybody who works here has looked, anybody may look once more, also the person whose figure is in dispute: they are told who
 *    looked before, look in their own name, and it stands so on the record.
 * 4. Once another has counted it anew, or they themselves in their own name, the last number of each stands as it does at a first look.
 */
export function whoLooks({ entries, closings, againAt }: Before, hands: readonly Hand[], personId: string): WhoLooks {
  const looks = [...entries, ...closings];
  const looked = [...new Set(looks.map(({ by }) => by))];
  const fresh = hands.filter(({ id }) => !looks.some((look) => look.personId === id)).map(({ name }) => name);
  if (againAt === null) return { may: 'look', looked, fresh };
  const isAnswered = entries.some((entry) => entry.recordedAt > againAt && (entry.personId !== personId || entry.inOwnName));
  const hasLooked = looks.some((look) => look.recordedAt <= againAt && look.personId === personId);
  if (isAnswered || !hasLooked) return { may: 'look', looked, fresh };
  return { may: fresh.length > 0 ? 'leave it to another' : 'look in their own name', looked, fresh };
}

/** Whether the last number that somebody keyed since was in their own name: what they put right of it is so too. */
export function wentOnInOwnName({ entries, againAt }: Before, personId: string): boolean {
  const own = entries.filter((entry) => entry.personId === personId && againAt !== null && entry.recordedAt > againAt);
  return own.at(-1)?.inOwnName ?? false;
}

const look = (row: string): string =>
  `${row}.person_id AS "personId", display_name AS by, ${row}.recorded_at AS "recordedAt", in_own_name AS "inOwnName"`;
const selectEntries = `
  SELECT ${look('count_entries')}, quantity, asked FROM count_entries JOIN people ON people.id = person_id
   WHERE count_id = $1 AND place_id = $2 AND thing_id = $3 AND NOT EXISTS (SELECT FROM count_entry_strikes WHERE entry_id = count_entries.id)
   ORDER BY occurred_at, sequence`;
const selectClosings = `
  SELECT ${look('count_closings')} FROM count_closings JOIN people ON people.id = person_id WHERE count_id = $1 AND place_id = $2 ORDER BY sequence`;
const selectLast = `
  SELECT decision, decided_at AS "decidedAt" FROM count_decisions WHERE count_id = $1 AND place_id = $2 AND thing_id = $3 ORDER BY turn DESC LIMIT 1`;

export async function readBefore(reader: Reader, countId: string, placeId: string, thingId: string): Promise<Before> {
  const [entries, closings, last] = await Promise.all([
    reader.rows<Before['entries'][number] & Record<string, unknown>>(selectEntries, [countId, placeId, thingId]),
    reader.rows<Look & Record<string, unknown>>(selectClosings, [countId, placeId]),
    reader.row<{ decision: string; decidedAt: string }>(selectLast, [countId, placeId, thingId]),
  ]);
  return { entries, closings, againAt: last?.decision === 'again' ? last.decidedAt : null };
}

/** Things at a place of which a second look was asked for and nobody has looked since. */
const selectAwaited = `
  SELECT last.thing_id AS "thingId" FROM (
    SELECT DISTINCT ON (thing_id) thing_id, decision, decided_at FROM count_decisions WHERE count_id = $1 AND place_id = $2 ORDER BY thing_id, turn DESC) AS last
   WHERE decision = 'again'
     AND NOT EXISTS (SELECT FROM count_entries WHERE count_id = $1 AND place_id = $2 AND count_entries.thing_id = last.thing_id AND recorded_at > decided_at
           AND NOT EXISTS (SELECT FROM count_entry_strikes WHERE entry_id = count_entries.id))
     AND NOT EXISTS (SELECT FROM count_closings WHERE count_id = $1 AND place_id = $2 AND recorded_at > decided_at)
   ORDER BY thing_id`;

/** What was looked at of each thing at a place that waits for a second look. Whoever says that all is scanned has looked for each of them. */
export async function readAwaited(reader: Reader, countId: string, placeId: string): Promise<Before[]> {
  const awaited = await reader.rows<{ thingId: string }>(selectAwaited, [countId, placeId]);
  const all: Before[] = [];
  for (const { thingId } of awaited) all.push(await readBefore(reader, countId, placeId, thingId));
  return all;
}

const selectHands =
  "SELECT id, display_name AS name FROM people WHERE active AND role IN ('owner', 'stores', 'bench') ORDER BY display_name, id";

/** Who works with things, and so may count. */
export function handsOf(reader: Reader): Promise<Hand[]> {
  return reader.rows<Hand & Record<string, unknown>>(selectHands);
}

/** Whether this person may look; a refusal that says who has looked, and what to do next. */
export async function whyNotLook(
  transaction: Transaction,
  all: readonly Before[],
  { inOwnName, how }: { inOwnName: boolean; how: string },
): Promise<{ refusal: Refusal | null; isInOwnName: boolean }> {
  const awaited = all.filter(({ againAt }) => againAt !== null);
  if (awaited.length === 0) return { refusal: null, isInOwnName: false };
  const { id } = transaction.command.person;
  const hands = await handsOf(transaction);
  const said = awaited.map((before) => whoLooks(before, hands, id));
  const others = said.find(({ may }) => may === 'leave it to another');
  if (others !== undefined) return { refusal: anotherIsAsked(others), isInOwnName: false };
  const own = said.find(({ may }) => may === 'look in their own name');
  const goesOn = awaited.some((before) => wentOnInOwnName(before, id));
  if (own === undefined) return { refusal: null, isInOwnName: goesOn };
  return inOwnName ? { refusal: null, isInOwnName: true } : { refusal: everybodyHasLooked(own, how), isInOwnName: false };
}

function anotherIsAsked({ fresh }: WhoLooks): Refusal {
  return {
    status: 409,
    code: 'another-is-asked',
    title: 'Another person looks again',
    detail: `You have counted this here before, and a second look was asked for. Let somebody count it who has not: ${inWords(fresh, 'or')}. Nothing was counted.`,
  };
}

function everybodyHasLooked({ looked }: WhoLooks, how: string): Refusal {
  return {
    status: 409,
    code: 'everybody-has-looked',
    title: looked.length === 1 ? 'Nobody else can look' : 'Everybody has looked',
    detail: `${inWords(looked, 'and')} ${looked.length === 1 ? 'has' : 'have'} looked at this here before, and nobody who works with things is left. ${how}: that is in your own name, and stands so on the record. Nothing was counted.`,
    values: { looked: [...looked] },
  };
}

/** Whose a second look is, for whoever walks to the shelf: "Ida Crake or Wilf Peskett looks; Tom Hasleby has". */
export function whoseLook(before: Before, hands: readonly Hand[]): string {
  const { looked, fresh } = whoLooks(before, hands, '');
  const have = looked.length === 1 ? 'has' : 'have';
  return fresh.length > 0
    ? `${inWords(fresh, 'or')} looks; ${inWords(looked, 'and')} ${have}`
    : `${inWords(looked, 'and')} ${have} looked, and nobody is left: anybody looks once more, in their own name`;
}

const named = 3;

/** "Ida Crake, Tom Hasleby or Wilf Peskett"; of many, the first. */
function inWords(names: readonly string[], joined: 'and' | 'or'): string {
  const rest = names.length - named;
  const shown = rest > 0 ? [...names.slice(0, named), `${rest} more`] : names;
  return shown.length < 2 ? shown.join('') : `${shown.slice(0, -1).join(', ')} ${joined} ${shown.at(-1)}`;
}
