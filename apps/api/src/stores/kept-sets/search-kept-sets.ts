import type { SearchHit } from '@corewright/contracts/stores';
import { rankOf } from '../../catalogue/search/rank.js';
import type { Reader } from '../../platform/database/database.js';
import { codeOf, holderWords, thingFacts, thingName } from '../place-words.js';
import { asked, type Question } from '../search/question.js';
import type { RankedHit, RareSource } from '../search/search-registry.js';

/** SQL: whether what was keyed is one. Most is none, and to begin the statement that says all about the parts of a set takes longer than to see that. */
const isSetNumber = `
  EXISTS (
    SELECT 1 FROM kept_sets JOIN kept_set_members ON set_id = kept_sets.id
     WHERE (number_key <> '' AND number_key ~ ${asked('set_number')}) OR (stamped_key <> '' AND stamped_key ~ ${asked('set_number')}))`;

/** The number of the set, or what is stamped on the part itself, whole; `?` for any character on either side. */
const membersNumbered = `
  WITH keyed AS MATERIALIZED (SELECT $1::text AS pattern, $2::integer AS most)
  SELECT DISTINCT ON (things.id) things.id, CASE things.kind WHEN 'L' THEN 'lot' ELSE 'component' END AS kind, ${codeOf('things.id')} AS code, ${thingName} AS name,
         coalesce(nullif(stamped, ''), number) AS number, kept_sets.words, bound, broken_why AS "brokenWhy",
         coalesce((SELECT string_agg(${holderWords('holders.id', 'holders.kind')}, '; ' ORDER BY quantity DESC, holders.id)
           FROM balances JOIN holders ON holders.id = holder_id WHERE thing_id = things.id AND quantity > 0), '') AS where,
         trim_scale(held)::text AS quantity
    FROM kept_sets JOIN kept_set_members ON set_id = kept_sets.id JOIN things ON things.id = thing_id ${thingFacts}
   WHERE (number_key <> '' AND number_key ~ (SELECT pattern FROM keyed)) OR (stamped_key <> '' AND stamped_key ~ (SELECT pattern FROM keyed))
   ORDER BY things.id, bound DESC, bound_at DESC LIMIT (SELECT most FROM keyed)`;

interface MemberHit extends Record<string, unknown> {
  id: string;
  kind: SearchHit['kind'];
  code: string | null;
  name: string;
  number: string;
  words: string;
  bound: boolean;
  brokenWhy: string | null;
  where: string;
  quantity: string;
}

async function membersOf(reader: Reader, { setNumber }: Question, limit: number): Promise<RankedHit[]> {
  const rows = await reader.rows<MemberHit>(membersNumbered, [setNumber, limit]);
  return rows.map(({ number, words, bound, brokenWhy, ...hit }) => ({
    ...hit,
    detail: `${words}, set ${number}: ${bound ? 'kept together' : `odd. ${brokenWhy ?? ''}`}`,
    rank: rankOf.itself,
    order: hit.name,
  }));
}

/** Parts of kept sets by their set number; the odd ones say what broke their set. */
export const searchKeptSets: RareSource = {
  name: 'set numbers',
  isThere: isSetNumber,
  when: ({ setNumber, words }) => words === 'as keyed' && setNumber !== '',
  find: membersOf,
};
