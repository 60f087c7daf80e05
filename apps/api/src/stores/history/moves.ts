import type { Reader } from '../../platform/database/database.js';
import { holderWords } from '../place-words.js';
import { type HistoryAsked, type HistoryRow, type HistorySource, pointOf } from './history-registry.js';

const columns = 'id, thing_id, quantity, from_holder_id, to_holder_id, reason, person_id, occurred_at, recorded_at, reverses_id';
const goesOn =
  '($2::timestamptz IS NULL OR (recorded_at, id) < ($2::timestamptz, $3::uuid)) AND ($2::timestamptz IS NULL OR recorded_at <= $2::timestamptz)';
const newest = 'ORDER BY recorded_at DESC, id DESC LIMIT $4';

/** Of each thing the newest by its index, then the newest of these. */
const ofThings = `
  SELECT ${columns} FROM unnest($1::uuid[]) AS of (thing)
   CROSS JOIN LATERAL (SELECT ${columns} FROM movements WHERE thing_id = of.thing AND ${goesOn} ${newest}) AS each ${newest}`;
const ofPlace = `
  SELECT ${columns} FROM (
    (SELECT ${columns} FROM movements WHERE to_holder_id = ($1::uuid[])[1] AND ${goesOn} ${newest})
    UNION ALL (SELECT ${columns} FROM movements WHERE from_holder_id = ($1::uuid[])[1] AND ${goesOn} ${newest})) AS each ${newest}`;

/** SQL: what a holder of the page is called. */
const words = (holder: string): string => `((SELECT words FROM ends) ->> ${holder}::text)`;

/**
 * Each holder is put into words once, however often it comes up on the page, and looked up as in a dictionary: joined, a list made on the way would be gone through for
 * each row.
 */
const shown = (moves: string, title: string): string => `
  WITH page AS MATERIALIZED (${moves}),
  ends AS MATERIALIZED (
    SELECT jsonb_object_agg(holders.id, ${holderWords('holders.id', 'holders.kind')}) AS words FROM holders
     WHERE holders.id IN (SELECT from_holder_id FROM page UNION SELECT to_holder_id FROM page))
  SELECT page.id, ${pointOf('page.recorded_at')} AS point, page.recorded_at AS at, occurred_at AS "doneAt", ${title} AS title,
         concat_ws(', ', reason, CASE WHEN reverses_id IS NOT NULL THEN 'taking back' END) AS detail, coalesce(people.display_name, '') AS by,
         EXISTS (SELECT FROM movements AS later WHERE later.reverses_id = page.id) AS "isTakenBack", thing_id AS "thingId"
    FROM page LEFT JOIN people ON people.id = person_id
   ORDER BY page.recorded_at DESC, page.id DESC`;

const movesOfThings = shown(
  ofThings,
  `concat_ws(' ', trim_scale(quantity)::text, 'from', ${words('from_holder_id')}, 'to', ${words('to_holder_id')})`,
);
const movesOfPlace = shown(
  ofPlace,
  `concat_ws(' ', trim_scale(quantity)::text, CASE WHEN to_holder_id = ($1::uuid[])[1] THEN 'came from ' || ${words('from_holder_id')} ELSE 'went to ' || ${words('to_holder_id')} END)`,
);

const by =
  (text: string) =>
  (reader: Reader, { ids, before, limit }: HistoryAsked): Promise<HistoryRow[]> =>
    reader.rows<HistoryRow & Record<string, unknown>>(text, [ids, before?.at ?? null, before?.id ?? null, limit]);

/** Every movement, of a thing from where to where, of a place what came and what went. */
export const moves: HistorySource = { kind: 'moves', words: 'Moves', ofThings: by(movesOfThings), ofPlace: by(movesOfPlace) };
