import { decimalFrom } from '@corewright/quantities/decimal';
import type { Reader } from '../platform/database/database.js';
import { codeOf, placePath, thingFacts, thingName } from '../stores/place-words.js';
import type { Moved } from './books-at.js';
import type { Closing, Entry } from './line-of-count.js';

/** One thing at one place. */
export interface LineKey {
  placeId: string;
  thingId: string;
}

export const keyOf = ({ placeId, thingId }: LineKey): string => `${placeId} ${thingId}`;

export interface LastDecision extends LineKey, Record<string, unknown> {
  id: string;
  turn: number;
  decision: 'posted' | 'moved' | 'missing' | 'again' | 'left' | 'taken back';
  by: string;
  at: string;
  why: string;
  counted: string | null;
  books: string | null;
  movementId: string | null;
}

/** What a thing is, for a line of a count. */
export interface ThingOfLine extends Record<string, unknown> {
  id: string;
  code: string;
  name: string;
  kind: 'U' | 'L' | 'C' | 'X';
  unitOfMeasure: string;
  ownerId: string | null;
  owner: string | null;
  held: string;
  awaited: string;
  claimed: string;
  isMissing: boolean;
}

export interface PlaceOfCount extends Record<string, unknown> {
  id: string;
  code: string;
  name: string;
  /** the tray of a job */
  isTray: boolean;
}

/** Everything that is known of the lines of a count. */
export interface CountFacts {
  lines: LineKey[];
  entries: Map<string, Entry[]>;
  closings: Map<string, Closing[]>;
  moved: Map<string, Moved[]>;
  decisions: Map<string, LastDecision[]>;
  things: Map<string, ThingOfLine>;
  places: Map<string, PlaceOfCount>;
}

/** Each place in which somebody counts or has counted. */
const selectPlaces = `
  SELECT DISTINCT holder_id AS id, coalesce(${codeOf('holder_id')}, '') AS code, path AS name, places.kind = 'tray' AS "isTray" FROM count_takings JOIN places ON holder_id = place_id WHERE count_id = $1`;
const selectEntries = `
  SELECT count_entries.id, sequence, place_id AS "placeId", thing_id AS "thingId", person_id AS "personId", display_name AS by, occurred_at AS at,
         recorded_at AS "recordedAt", quantity, asked, in_own_name AS "inOwnName"
    FROM count_entries JOIN people ON people.id = person_id
   WHERE count_id = $1 AND ($2::uuid IS NULL OR thing_id = $2) AND NOT EXISTS (SELECT FROM count_entry_strikes WHERE entry_id = count_entries.id)`;
const selectClosings = `
  SELECT place_id AS "placeId", person_id AS "personId", display_name AS by, occurred_at AS at, recorded_at AS "recordedAt", in_own_name AS "inOwnName"
    FROM count_closings JOIN people ON people.id = person_id WHERE count_id = $1`;
/** What ever lay there, whether or not it does now: its balance is kept at nought. */
const selectEverThere = `
  SELECT balances.holder_id AS "placeId", balances.thing_id AS "thingId" FROM balances
   WHERE balances.holder_id = ANY ($1::uuid[]) AND ($3::uuid IS NULL OR thing_id = $3)
     AND ($2::uuid IS NULL OR EXISTS (SELECT FROM lots WHERE lots.thing_id = balances.thing_id AND part_id = $2)
                           OR EXISTS (SELECT FROM components WHERE components.thing_id = balances.thing_id AND part_id = $2))`;
const selectMoved = `
  SELECT place.id AS "placeId", movements.thing_id AS "thingId", movements.sequence, occurred_at AS "occurredAt", recorded_at AS "recordedAt",
         CASE WHEN to_holder_id = place.id THEN quantity ELSE -quantity END AS change,
         (SELECT undone.sequence FROM movements AS undone WHERE undone.id = movements.reverses_id) AS reverses,
         EXISTS (SELECT FROM count_decisions WHERE count_id = $3 AND movement_id = movements.id) AS "isOwn"
    FROM unnest($1::uuid[]) AS place (id) JOIN movements ON place.id IN (from_holder_id, to_holder_id)
   WHERE movements.thing_id = ANY ($2::uuid[])`;
const selectDecisions = `
  SELECT count_decisions.id, place_id AS "placeId", thing_id AS "thingId", turn, decision, display_name AS by, decided_at AS at, why,
         trim_scale(counted)::text AS counted, trim_scale(books)::text AS books, movement_id AS "movementId"
    FROM count_decisions JOIN people ON people.id = person_id
   WHERE count_id = $1 AND ($2::uuid IS NULL OR thing_id = $2) ORDER BY turn`;
const selectThings = `
  SELECT things.id, coalesce(${codeOf('things.id')}, '') AS code, ${thingName} AS name, things.kind, coalesce(parts.unit_of_measure, 'each') AS "unitOfMeasure",
         owner_id AS "ownerId", (SELECT parties.name FROM parties WHERE parties.id = owner_id) AS owner, held, awaited, claimed,
         missing_since IS NOT NULL AS "isMissing"
    FROM things ${thingFacts} WHERE things.id = ANY ($1::uuid[])`;

interface EntryRow extends Omit<Entry, 'at' | 'recordedAt' | 'quantity' | 'isUnsure'>, LineKey, Record<string, unknown> {
  at: string;
  recordedAt: string;
  quantity: string | null;
  asked: string;
}
interface ClosingRow extends Omit<Closing, 'at' | 'recordedAt'>, Record<string, unknown> {
  placeId: string;
  at: string;
  recordedAt: string;
}
interface MovedRow extends Omit<Moved, 'occurredAt' | 'recordedAt' | 'change'>, LineKey, Record<string, unknown> {
  occurredAt: string;
  recordedAt: string;
  change: string;
}

export interface WhatToRead {
  /** of a count of a part: nothing else is looked at */
  partId: string | null;
  /** one thing alone; null: all of them */
  thingId: string | null;
}

/** Reads a count. Decided upon only by whoever holds its lock. */
export async function readCount(reader: Reader, countId: string, { partId, thingId }: WhatToRead): Promise<CountFacts> {
  const places = await reader.rows<PlaceOfCount>(selectPlaces, [countId]);
  const entries = await reader.rows<EntryRow>(selectEntries, [countId, thingId]);
  const closings = await reader.rows<ClosingRow>(selectClosings, [countId]);
  const decisions = await reader.rows<LastDecision>(selectDecisions, [countId, thingId]);
  const placeIds = places.map(({ id }) => id);
  const everThere = await reader.rows<LineKey & Record<string, unknown>>(selectEverThere, [placeIds, partId, thingId]);
  const lines = new Map<string, LineKey>();
  for (const { placeId, thingId: id } of [...entries, ...everThere]) {
    const key = { placeId, thingId: id };
    lines.set(keyOf(key), key);
  }
  const thingIds = [...new Set([...lines.values()].map((line) => line.thingId))];
  const moved = await reader.rows<MovedRow>(selectMoved, [placeIds, thingIds, countId]);
  const things = await reader.rows<ThingOfLine>(selectThings, [thingIds]);
  return {
    lines: [...lines.values()],
    entries: gathered(entries, keyOf, entryOf),
    closings: gathered(closings, ({ placeId }) => placeId, closingOf),
    moved: gathered(moved, keyOf, movedOf),
    decisions: gathered(decisions, keyOf, (row) => row),
    things: new Map(things.map((thing) => [thing.id, thing])),
    places: new Map(places.map((place) => [place.id, place])),
  };
}

function gathered<Row, Kept>(rows: readonly Row[], key: (row: Row) => string, kept: (row: Row) => Kept): Map<string, Kept[]> {
  const all = new Map<string, Kept[]>();
  for (const row of rows) all.set(key(row), [...(all.get(key(row)) ?? []), kept(row)]);
  return all;
}

function entryOf({ id, sequence, personId, by, at, recordedAt, quantity, asked, inOwnName }: EntryRow): Entry {
  return {
    id,
    sequence,
    personId,
    by,
    at: Date.parse(at),
    recordedAt: Date.parse(recordedAt),
    quantity: quantity === null ? null : decimalFrom(quantity),
    isUnsure: asked === 'once more',
    inOwnName,
  };
}

function closingOf({ personId, by, at, recordedAt, inOwnName }: ClosingRow): Closing {
  return { personId, by, at: Date.parse(at), recordedAt: Date.parse(recordedAt), inOwnName };
}

function movedOf({ sequence, occurredAt, recordedAt, change, reverses, isOwn }: MovedRow): Moved {
  return {
    sequence,
    occurredAt: Date.parse(occurredAt),
    recordedAt: Date.parse(recordedAt),
    change: decimalFrom(change),
    reverses,
    isOwn,
  };
}

const selectElsewhere = `
  SELECT thing_id AS "thingId", balances.holder_id AS "placeId", ${placePath('balances.holder_id')} AS words, trim_scale(quantity)::text AS quantity, holders.kind = 'tray' AS "isTray"
    FROM balances JOIN holders ON holders.id = holder_id
   WHERE thing_id = ANY ($1::uuid[]) AND holders.kind IN ('place', 'tray') AND quantity > 0 ORDER BY quantity DESC, balances.holder_id`;

export interface LiesAt extends LineKey, Record<string, unknown> {
  words: string;
  quantity: string;
  isTray: boolean;
}

/** The places and trays in which the books have these things now. */
export function placesOf(reader: Reader, thingIds: readonly string[]): Promise<LiesAt[]> {
  return reader.rows<LiesAt>(selectElsewhere, [thingIds]);
}
