import type { HistoryEntry, HistoryPage, HistoryQuery } from '@corewright/contracts/history';
import { Injectable } from '@nestjs/common';
import { Database, type Reader } from '../../platform/database/database.js';
import { cursorOf, placeOf } from '../../platform/http/next-page.js';
import { badInput, notFound, RefusalError } from '../../platform/refusal.js';
import { codeOf, thingFacts, thingName } from '../place-words.js';
import { entriesFor, type HistoryPoint, HistoryRegistry, type HistoryRow, type HistorySubject } from './history-registry.js';

interface Subject {
  of: HistorySubject;
  id: string;
  /** whether who asks keeps the books */
  isKeeper: boolean;
}

type Found = HistoryRow & { kind: string };

const isThere: Record<HistorySubject, string> = {
  thing: 'SELECT 1 AS there FROM things WHERE id = $1',
  part: 'SELECT 1 AS there FROM parts WHERE id = $1',
  place: 'SELECT 1 AS there FROM places WHERE holder_id = $1',
};
const called: Record<HistorySubject, string> = { thing: 'That thing', part: 'That part', place: 'That place' };
const selectLots = 'SELECT thing_id AS id FROM lots WHERE part_id = $1';
const selectNamed = `
  SELECT things.id, ${codeOf('things.id')} AS code, ${thingName} AS name FROM things ${thingFacts} WHERE things.id = ANY ($1::uuid[])`;

type Named = NonNullable<HistoryEntry['thing']>;

/** Everything that is on record of a thing, a part with all its lots, or a place; the newest first. */
@Injectable()
export class History {
  constructor(
    private readonly database: Database,
    private readonly registry: HistoryRegistry,
  ) {}

  /** @throws RefusalError for what is not in the books, or a kind that there is not */
  async page(subject: Subject, query: HistoryQuery): Promise<HistoryPage> {
    const sources = this.registry.of(subject.of).filter((source) => subject.isKeeper || source.isForKeepers !== true);
    const wanted = query.kinds.split(',').filter((kind) => kind !== '');
    const strange = wanted.find((kind) => !sources.some((source) => source.kind === kind));
    if (strange !== undefined)
      throw new RefusalError(badInput('kinds', `Nothing here is of the kind “${strange}”. Choose one from the list.`));
    const before = pointFrom(query.cursor);
    const asked = sources.filter(({ kind }) => wanted.length === 0 || wanted.includes(kind));
    return this.database.together(async (reader) => {
      const things = await thingsOf(reader, subject);
      const found = await Promise.all(
        asked.flatMap((source) =>
          entriesFor(source, subject.of).map(async ({ by, entries }): Promise<Found[]> => {
            const ids = by === 'things' ? things : [subject.id];
            if (ids.length === 0) return [];
            const rows = await entries(reader, { ids, before, limit: query.limit + 1 });
            return rows.map((row) => ({ ...row, kind: source.kind }));
          }),
        ),
      );
      const rows = found.flat().sort(newestFirst);
      const page = rows.slice(0, query.limit);
      const last = page.at(-1);
      return {
        entries: await this.shown(reader, subject.of, page),
        kinds: sources.map(({ kind, words }) => ({ kind, words })),
        cursor: rows.length > query.limit && last ? cursorOf([last.point, last.id]) : null,
      };
    });
  }

  /** Which thing it was goes without saying on the page of that thing. */
  private async shown(reader: Reader, of: HistorySubject, rows: readonly Found[]): Promise<HistoryEntry[]> {
    const ids = of === 'thing' ? [] : [...new Set(rows.flatMap(({ thingId }) => thingId ?? []))];
    const named = ids.length === 0 ? [] : await reader.rows<Named & Record<string, unknown>>(selectNamed, [ids]);
    const byId = new Map(named.map((thing) => [thing.id, thing]));
    return rows.map(({ point: _point, thingId, ...entry }) => ({
      ...entry,
      thing: (thingId === null ? undefined : byId.get(thingId)) ?? null,
    }));
  }
}

async function thingsOf(reader: Reader, { of, id }: Subject): Promise<string[]> {
  const [there, lots] = await Promise.all([
    reader.row(isThere[of], [id]),
    of === 'part' ? reader.rows<{ id: string }>(selectLots, [id]) : [],
  ]);
  if (there === null) throw new RefusalError(notFound(called[of]));
  return of === 'thing' ? [id] : lots.map((lot) => lot.id);
}

function pointFrom(cursor: string | undefined): HistoryPoint | null {
  const place = placeOf(cursor, ['string', 'uuid']) as [string, string] | null;
  if (place === null) return null;
  const [at, id] = place;
  if (!/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{6}Z$/.test(at))
    throw new RefusalError(badInput('cursor', 'That page cannot be found. Start the list again from its beginning.'));
  return { at, id };
}

function newestFirst(one: Found, other: Found): number {
  if (one.point !== other.point) return one.point < other.point ? 1 : -1;
  if (one.id === other.id) return 0;
  return one.id < other.id ? 1 : -1;
}
