import { rankOf } from '../catalogue/search/rank.js';
import type { Reader } from '../platform/database/database.js';
import { codeOf } from '../stores/place-words.js';
import { asked } from '../stores/search/question.js';
import type { SearchSource, Shown } from '../stores/search/search-registry.js';

interface JobRow extends Record<string, unknown> {
  id: string;
  code: string;
  name: string;
  customer: string | null;
  state: string;
}

const jobsFound = `
  SELECT 'job', jobs.id, ${rankOf.words}, title FROM jobs LEFT JOIN parties ON parties.id = customer_id
   WHERE concat_ws(' ', title, parties.name, wanted) ILIKE ALL (${asked('patterns')}::text[])`;

const jobsSaid = `
  SELECT jobs.id, ${codeOf('jobs.id')} AS code, title AS name, parties.name AS customer, state
    FROM unnest((SELECT $1::uuid[])) AS found (id) JOIN jobs ON jobs.id = found.id LEFT JOIN parties ON parties.id = customer_id`;

/** Jobs by their title, who they are for, or what is wanted. */
export const searchJobs: SearchSource = {
  kinds: ['job'],
  candidates: [{ select: jobsFound, when: ({ patterns, words }) => words === 'as keyed' && patterns.length > 0 }],
  shown: async (reader: Reader, found): Promise<Shown[]> => {
    const rows = await reader.rows<JobRow>(jobsSaid, [found.map(({ id }) => id)]);
    return rows.map(({ customer, state, ...hit }) => ({
      ...hit,
      kind: 'job',
      detail: customer ? `for ${customer}` : 'for stock',
      where: '',
      quantity: state,
    }));
  },
};
