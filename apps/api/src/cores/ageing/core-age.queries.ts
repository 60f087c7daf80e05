import type { CoreReview, CoreReviewMarks } from '@corewright/contracts/core-ages';
import type { Reader } from '../../platform/database/database.js';
import { codeOf, holderWords } from '../../stores/place-words.js';

/**
 * SQL: a core that ages in the yard: ours, here, neither stripped nor rebuilt, and on no job that was not called off. Needs `units` and `things`.
 */
const agesHere = `
  owner_id IS NULL AND held > 0 AND NOT condemned AND missing_since IS NULL AND stage = 'core'
  AND NOT EXISTS (SELECT FROM jobs WHERE jobs.unit_id = units.thing_id AND jobs.state <> 'called off')`;

export interface CoreRow extends Record<string, unknown> {
  id: string;
  code: string;
  typeId: string | null;
  typeName: string | null;
  words: string;
  grade: string;
  where: string;
  since: string;
  loadNumber: number | null;
  isPromised: boolean;
  review: CoreReview | null;
}

const reviewJson = `
  json_build_object('id', core_reviews.id, 'decided', decided, 'note', note, 'nextOn', next_on, 'by', display_name,
                    'at', to_char(core_reviews.recorded_at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'))`;

/** Since when: the day on which its load was bought; without one, the day on which it first moved in the books. */
const selectCores = `
  SELECT things.id, ${codeOf('things.id')} AS code, unit_types.id AS "typeId", nullif(concat_ws(' ', makers.name, model, nullif(variant, '')), '') AS "typeName",
         units.words, units.grade,
         coalesce((SELECT ${holderWords('holders.id', 'holders.kind')} FROM balances JOIN holders ON holders.id = holder_id
           WHERE balances.thing_id = things.id AND balances.quantity > 0 LIMIT 1), '') AS where,
         coalesce(loads.bought_on, first.day) AS since, loads.number AS "loadNumber", things.claimed > 0 AS "isPromised", latest.review
    FROM units JOIN things ON things.id = units.thing_id CROSS JOIN workshop
    LEFT JOIN unit_types ON unit_types.id = unit_type_id LEFT JOIN makers ON makers.id = maker_id
    LEFT JOIN load_rows ON load_rows.thing_id = things.id AND NOT struck_out LEFT JOIN loads ON loads.id = load_id
    JOIN LATERAL (SELECT (occurred_at AT TIME ZONE workshop.time_zone)::date AS day FROM movements WHERE movements.thing_id = things.id ORDER BY sequence LIMIT 1) AS first ON true
    LEFT JOIN LATERAL (SELECT ${reviewJson} AS review FROM core_reviews JOIN people ON people.id = person_id WHERE unit_id = things.id ORDER BY sequence DESC LIMIT 1) AS latest ON true
   WHERE ${agesHere}
   ORDER BY since, things.id LIMIT $1`;

/** The cores that age in the yard, the oldest first. */
export function agingCores(reader: Reader, most: number): Promise<CoreRow[]> {
  return reader.rows<CoreRow>(selectCores, [most]);
}

const selectReviews = `SELECT ${reviewJson} AS review FROM core_reviews JOIN people ON people.id = person_id WHERE unit_id = $1 ORDER BY sequence DESC`;

/** Every time that a core was looked through, newest first. */
export async function reviewsOf(reader: Reader, unitId: string): Promise<CoreReview[]> {
  return (await reader.rows<{ review: CoreReview }>(selectReviews, [unitId])).map(({ review }) => review);
}

const selectMarks = 'SELECT first_months AS "firstMonths", second_months AS "secondMonths", version FROM core_review_marks';

export async function reviewMarks(reader: Reader): Promise<CoreReviewMarks | null> {
  return reader.row<CoreReviewMarks & Record<string, unknown>>(selectMarks);
}
