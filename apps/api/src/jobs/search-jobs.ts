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
  SELECT jobs.id, codes.code, title AS name, parties.name AS customer, state,
         CASE WHEN codes.code = $2 THEN ${rankOf.itself} WHEN $2 <> '' AND starts_with(codes.code, $2) THEN ${rankOf.begins} ELSE ${rankOf.words} END AS rank
    FROM jobs JOIN codes ON subject_id = jobs.id AND codes.kind = 'J' LEFT JOIN parties ON parties.id = customer_id
   WHERE ($2 <> '' AND starts_with(codes.code, $2)) OR (cardinality($1::text[]) > 0 AND concat_ws(' ', title, parties.name, wanted) ILIKE ALL ($1))
   ORDER BY rank, title, jobs.id LIMIT $3`;

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
