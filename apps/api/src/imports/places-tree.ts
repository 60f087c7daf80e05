import type { PlaceKind } from '@corewright/contracts/stores';
import type * as z from 'zod';
import { newId } from '../platform/new-id.js';
import type { Result } from '../platform/refusal.js';
import { done } from '../platform/refusal.js';
import { ensureGoodsInPlace } from '../stores/goods-in-place.js';
import type { Books } from './books.js';
import type { Row } from './row.js';

export type KindOfPlace = z.infer<typeof PlaceKind>;

export interface KnownPlace {
  id: string;
  kind: string;
  nicknames: string;
  /** it takes no goods */
  closed: boolean;
  /** made because a path led through it; a row of its own may still say what it is */
  implied: boolean;
}

/** SQL: every place with its path from the top down, as `tree`. */
export const placesTree = `
  WITH RECURSIVE tree AS (
    SELECT holder_id, kind, nicknames, closed_at, name AS path FROM places WHERE parent_id IS NULL
    UNION ALL
    SELECT places.holder_id, places.kind, places.nicknames, places.closed_at, tree.path || '/' || places.name FROM places JOIN tree ON tree.holder_id = places.parent_id)`;

const allPlaces = `
  ${placesTree}
  SELECT holder_id AS id, kind, nicknames, closed_at IS NOT NULL AS closed, path FROM tree`;

/** Places by their path, small or capital letters alike. */
export function knownPlaces(books: Books): Promise<Map<string, KnownPlace>> {
  return books.register('places', async () => {
    const rows = await books.transaction.rows<Omit<KnownPlace, 'implied'> & { path: string }>(allPlaces);
    return new Map(rows.map(({ path, ...place }) => [path.toLowerCase(), { ...place, implied: false }]));
  });
}

/** The steps of a path: "Stores/Rack 3/Bin 12". */
export function stepsOf(path: string): string[] {
  return path.split('/').map((step) => step.trim());
}

export function keyOfPath(steps: readonly string[]): string {
  return steps.join('/').toLowerCase();
}

/** Makes a place and, before it, whatever its path leads through: an area at the top, racks below it. */
export async function makePlace(
  books: Books,
  steps: readonly string[],
  kind: KindOfPlace,
  nicknames: string,
): Promise<Result<string>> {
  const known = await knownPlaces(books);
  let parentId: string | null = null;
  for (let depth = 1; depth < steps.length; depth += 1) {
    const parent = known.get(keyOfPath(steps.slice(0, depth)));
    const step: Result<string> = parent
      ? done(parent.id)
      : await addOne(books, steps.slice(0, depth), parentId, {
          kind: depth === 1 ? 'area' : 'rack',
          nicknames: '',
          implied: true,
        });
    if (!step.ok) return step;
    parentId = step.value;
  }
  return addOne(books, steps, parentId, { kind, nicknames, implied: false });
}

async function addOne(
  books: Books,
  steps: readonly string[],
  parentId: string | null,
  place: Pick<KnownPlace, 'nicknames' | 'implied'> & { kind: KindOfPlace },
): Promise<Result<string>> {
  const { kind, nicknames, implied } = place;
  const id = newId();
  const added = await books.handlers.places.handle(books.transaction, {
    id,
    parentId,
    name: steps.at(-1) ?? '',
    kind,
    nicknames,
  });
  if (!added.ok) return added;
  (await knownPlaces(books)).set(keyOfPath(steps), { id, kind, nicknames, closed: false, implied });
  return done(id);
}

/** The place that a cell names by its path. An empty cell: where goods stand that have come in and have no place yet. */
export async function placeIn(row: Row, column: string, books: Books): Promise<string | null> {
  const path = row.text(column, 1000);
  if (path === '') return ensureGoodsInPlace(books.transaction);
  const place = (await knownPlaces(books)).get(keyOfPath(stepsOf(path)));
  if (place?.closed)
    return row.fault(column, `${path} is closed and takes no goods. Name another place, or open it again on its page.`);
  return place?.id ?? books.lacking(row, column, `The place "${path}"`, 'places', [path]);
}
