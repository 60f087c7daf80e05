import { readFile } from 'node:fs/promises';
import { CountDecisionKind, type CountLine, DecideCountLine } from '@corewright/contracts/counting';
import { addDays, type PlainDate } from '@corewright/quantities/plain-date';
import type { INestApplication } from '@nestjs/common';
import { parse } from 'csv-parse/sync';
import * as z from 'zod';
import { BeginCountHandler } from '../counting/begin-count/begin-count.handler.js';
import { ClosePlaceHandler } from '../counting/close-place/close-place.handler.js';
import { DecideLinesHandler } from '../counting/decide/decide-lines.handler.js';
import { Differences } from '../counting/differences.js';
import { EndCountHandler } from '../counting/end-count/end-count.handler.js';
import { EnterHandler } from '../counting/enter/enter.handler.js';
import { RecordFindingHandler } from '../counting/find/record-finding.handler.js';
import { TakePlaceHandler } from '../counting/take-place/take-place.handler.js';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import type { Reader } from '../platform/database/database.js';
import { newId } from '../platform/new-id.js';
import { done, type Result } from '../platform/refusal.js';
import { codeOf } from '../stores/place-words.js';
import { placesTree } from './places-tree.js';

const Row = z.object({
  place: z.string(),
  by: z.string(),
  on: z.string(),
  reference: z.string(),
  counted: z.string(),
  decision: CountDecisionKind,
  why: z.string(),
});

/** A count of the example: where, by whom, on which day, and what of it was not as the books had it. */
export interface ExampleCount {
  place: string;
  /** signed in so */
  by: string;
  on: PlainDate;
  wrong: z.infer<typeof Row>[];
}

/** The counts of the example that are over, the oldest first. */
export async function countsOver(file: URL): Promise<ExampleCount[]> {
  const rows = z.array(Row).parse(parse(await readFile(file, 'utf8'), { columns: true, skip_empty_lines: true }));
  const places = [...new Set(rows.map(({ place }) => place))];
  return places.map((place) => {
    const wrong = rows.filter((row) => row.place === place);
    const [first] = wrong as [z.infer<typeof Row>];
    return { place, by: first.by, on: first.on as PlainDate, wrong };
  });
}

const selectPlace = `${placesTree} SELECT holder_id AS id FROM tree WHERE path = $1`;
/** What lay in a place and in those inside it at an instant, in the order in which somebody walks along them. */
const selectLying = `
  ${placesTree}
  SELECT tree.holder_id AS "placeId", ${codeOf('tree.holder_id')} AS "placeCode", things.id AS "thingId", ${codeOf('things.id')} AS code, things.kind,
         trim_scale(sum(CASE WHEN to_holder_id = tree.holder_id THEN quantity ELSE -quantity END))::text AS quantity,
         (SELECT reference FROM import_references WHERE file = 'lots' AND subject_id = things.id) AS reference
    FROM tree JOIN movements ON tree.holder_id IN (from_holder_id, to_holder_id) JOIN things ON things.id = thing_id
   WHERE (path = $1 OR starts_with(path, $1 || '/')) AND occurred_at <= $2
   GROUP BY tree.holder_id, path, things.id HAVING sum(CASE WHEN to_holder_id = tree.holder_id THEN quantity ELSE -quantity END) > 0
   ORDER BY path COLLATE "C", things.id`;

interface Lying extends Record<string, unknown> {
  placeId: string;
  placeCode: string;
  thingId: string;
  code: string;
  kind: 'U' | 'L' | 'C' | 'X';
  quantity: string;
  reference: string | null;
}

/** Counts everything in a place as a person would who walks along it, bin by bin. @returns the count's id */
export async function countThrough(
  app: INestApplication,
  transaction: Transaction,
  { place, wrong, on }: ExampleCount,
  shiftDays: number,
): Promise<Result<string>> {
  const occurredAt = `${addDays(on, shiftDays)}T10:00:00.000Z`;
  const countId = newId();
  const handlers = handlersOf(app);
  const begun = await beginAt(app, transaction, place, { countId, occurredAt });
  if (!begun.ok) return begun;
  const lying = await transaction.rows<Lying>(selectLying, [place, occurredAt]);
  for (const [placeCode, placeId] of new Map(lying.map((each) => [each.placeCode, each.placeId]))) {
    const taken = await handlers.take.handle(transaction, { code: placeCode, countId, join: false, occurredAt });
    if (!taken.ok) return taken;
    for (const { code, kind, quantity, reference } of lying.filter((each) => each.placeId === placeId)) {
      const counted = wrong.find((each) => each.reference === reference)?.counted ?? quantity;
      const keyed = kind === 'L' ? { quantity: counted } : {};
      const entered = await handlers.enter.handle(transaction, {
        code,
        placeId,
        countId,
        ...keyed,
        inOwnName: false,
        occurredAt,
      });
      if (!entered.ok) return entered;
    }
    const closed = await handlers.close.handle(transaction, { placeId, countId, inOwnName: false, occurredAt });
    if (!closed.ok) return closed;
  }
  return done(countId);
}

/** Decides on what differed in a count and posts it, as whoever keeps the books. */
export async function postCount(
  app: INestApplication,
  transaction: Transaction,
  countId: string,
  { place, wrong }: ExampleCount,
): Promise<Result<null>> {
  const { lines } = await app.get(Differences, { strict: false }).of(transaction, { id: countId, partId: null });
  if (lines.length !== wrong.length)
    throw new Error(`The example count of ${place} has ${lines.length} differences instead of ${wrong.length}.`);
  const references = await referencesOf(transaction, lines);
  const decided = await app.get(DecideLinesHandler, { strict: false }).handle(transaction, countId, {
    lines: lines.map((line) =>
      decisionOn(
        line,
        wrong.find(({ reference }) => reference === references.get(line.thing.id)),
      ),
    ),
  });
  if (!decided.ok) return decided;
  const ended = await app.get(EndCountHandler, { strict: false }).handle(transaction, countId, { ending: 'posted', why: '' });
  return ended.ok ? done(null) : ended;
}

/** One is under way: somebody has counted half of a bin and found something that nobody had labelled. */
export async function countHalfABin(app: INestApplication, transaction: Transaction, place: string): Promise<Result<null>> {
  const countId = newId();
  const handlers = handlersOf(app);
  const begun = await beginAt(app, transaction, place, { countId });
  if (!begun.ok) return begun;
  const lying = await transaction.rows<Lying>(selectLying, [place, new Date().toISOString()]);
  const [first] = lying;
  if (first === undefined) throw new Error(`The example workshop has nothing in ${place}, which is being counted.`);
  const { placeId, placeCode } = first;
  const taken = await handlers.take.handle(transaction, { code: placeCode, countId, join: false });
  if (!taken.ok) return taken;
  for (const { code, kind, quantity } of lying.slice(0, Math.ceil(lying.length / 2))) {
    const keyed = kind === 'L' ? { quantity } : {};
    const entered = await handlers.enter.handle(transaction, { code, placeId, countId, ...keyed, inOwnName: false });
    if (!entered.ok) return entered;
  }
  const found = { kind: 'no label', words: 'a twist of small springs in newspaper', quantity: 6, code: null } as const;
  const written = await handlers.find.handle(transaction, { id: newId(), placeId, countId, ...found });
  return written.ok ? done(null) : written;
}

function handlersOf(app: INestApplication) {
  return {
    take: app.get(TakePlaceHandler, { strict: false }),
    enter: app.get(EnterHandler, { strict: false }),
    close: app.get(ClosePlaceHandler, { strict: false }),
    find: app.get(RecordFindingHandler, { strict: false }),
  };
}

async function beginAt(
  app: INestApplication,
  transaction: Transaction,
  path: string,
  { countId, occurredAt }: { countId: string; occurredAt?: string },
): Promise<Result<unknown>> {
  const place = await transaction.row<{ id: string }>(selectPlace, [path]);
  if (place === null) throw new Error(`The example workshop has lost ${path}, which is counted.`);
  const begin = app.get(BeginCountHandler, { strict: false });
  return begin.handle(transaction, {
    id: countId,
    placeId: place.id,
    partId: null,
    ...(occurredAt === undefined ? {} : { occurredAt }),
  });
}

const selectReferences =
  "SELECT subject_id AS id, reference FROM import_references WHERE file = 'lots' AND subject_id = ANY ($1::uuid[])";

async function referencesOf(reader: Reader, lines: readonly CountLine[]): Promise<ReadonlyMap<string, string>> {
  const rows = await reader.rows<{ id: string; reference: string }>(selectReferences, [lines.map(({ thing }) => thing.id)]);
  return new Map(rows.map(({ id, reference }) => [id, reference]));
}

function decisionOn({ place, thing, counts }: CountLine, wrong: z.infer<typeof Row> | undefined): DecideCountLine {
  const [taken] = counts;
  if (wrong === undefined || taken === undefined)
    throw new Error(`The example count differs in ${thing.name}, where it should agree.`);
  const seen = { counted: taken.quantity, books: taken.books };
  return DecideCountLine.parse({ placeId: place.id, thingId: thing.id, decision: wrong.decision, why: wrong.why, ...seen });
}
