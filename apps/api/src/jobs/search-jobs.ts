import { type Rank, rankOf } from '../catalogue/search/rank.js';
import type { Reader } from '../platform/database/database.js';
import { codeOf } from '../stores/place-words.js';
import type { Question, RankedHit } from '../stores/search/search-registry.js';

interface JobHitRow extends Record<string, unknown> {
  id: string;
  code: string;
  name: string;
  customer: string | null;
  state: string;
  rank: Rank;
}

/** What was keyed is kept from the planner, and the codes are looked up for those jobs alone that are found: there are far more codes than jobs. */
const jobsLike = `
  WITH asked AS MATERIALIZED (SELECT $1::text[] AS patterns, $2::text AS code, $3::integer AS most),
  found AS (
    SELECT id, min(rank) AS rank FROM (
      SELECT subject_id AS id, CASE WHEN codes.code = (SELECT code FROM asked) THEN ${rankOf.itself} ELSE ${rankOf.begins} END AS rank FROM codes
       WHERE (SELECT code FROM asked) <> '' AND codes.code >= (SELECT code FROM asked) COLLATE "C" AND codes.code < ((SELECT code FROM asked) || chr(1114111)) COLLATE "C" AND kind = 'J'
      UNION ALL
      SELECT jobs.id, ${rankOf.words} FROM asked CROSS JOIN jobs LEFT JOIN parties ON parties.id = customer_id
       WHERE cardinality(patterns) > 0 AND concat_ws(' ', title, parties.name, wanted) ILIKE ALL (patterns)) AS each GROUP BY id),
  best AS (SELECT jobs.id, title, customer_id, state, rank FROM found JOIN jobs ON jobs.id = found.id ORDER BY rank, title, jobs.id LIMIT (SELECT most FROM asked))
  SELECT best.id, ${codeOf('best.id')} AS code, title AS name, parties.name AS customer, state, rank
    FROM best LEFT JOIN parties ON parties.id = customer_id ORDER BY rank, title, best.id`;

/** Jobs by their code, their title, who they are for, or what is wanted. */
export async function searchJobs(reader: Reader, question: Question, limit: number): Promise<RankedHit[]> {
  const rows = await reader.rows<JobHitRow>(jobsLike, [question.patterns, question.code, limit]);
  return rows.map(({ id, code, name, customer, state, rank }) => ({
    kind: 'job',
    id,
    code,
    name,
    detail: customer ? `for ${customer}` : 'for stock',
    where: '',
    quantity: state,
    rank,
  }));
}
