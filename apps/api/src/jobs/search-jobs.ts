import { type Rank, rankOf } from '../catalogue/search/rank.js';
import type { Reader } from '../platform/database/database.js';
import type { Question, RankedHit } from '../stores/search/search-registry.js';

interface JobHitRow extends Record<string, unknown> {
  id: string;
  code: string;
  name: string;
  customer: string | null;
  state: string;
  rank: Rank;
}

const jobsLike = `
  WITH asked AS MATERIALIZED (SELECT $1::text[] AS patterns, $2::text AS code, $3::integer AS most)
  SELECT jobs.id, codes.code, title AS name, parties.name AS customer, state,
         CASE WHEN codes.code = asked.code THEN ${rankOf.itself} WHEN asked.code <> '' AND starts_with(codes.code, asked.code) THEN ${rankOf.begins} ELSE ${rankOf.words} END AS rank
    FROM asked CROSS JOIN jobs JOIN codes ON subject_id = jobs.id AND codes.kind = 'J' LEFT JOIN parties ON parties.id = customer_id
   WHERE (asked.code <> '' AND starts_with(codes.code, asked.code)) OR (cardinality(patterns) > 0 AND concat_ws(' ', title, parties.name, wanted) ILIKE ALL (patterns))
   ORDER BY rank, title, jobs.id LIMIT (SELECT most FROM asked)`;

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
