import type { SearchHit } from '@corewright/contracts/stores';
import { rankOf } from '../../catalogue/search/rank.js';
import { asked, askedColumns, type Question } from './question.js';
import type { Candidates, RareSource, SearchRegistry } from './search-registry.js';

/** Among hits as good as each other. */
export const kindsInOrder: readonly SearchHit['kind'][] = ['part', 'unit', 'lot', 'component', 'unsorted', 'place', 'job'];
const list = `ARRAY['${kindsInOrder.join("', '")}']`;

/** The letter with which the codes of each kind begin; a part bears none. */
export const letterOf = { unit: 'U', lot: 'L', component: 'C', unsorted: 'X', place: 'P', job: 'J' } as const satisfies Record<
  Exclude<SearchHit['kind'], 'part'>,
  string
>;
const letters = Object.values(letterOf);
const kindOfCode = `CASE kind ${Object.entries(letterOf)
  .map(([kind, letter]) => `WHEN '${letter}' THEN '${kind}'`)
  .join(' ')} END`;

/** What bears the code, or one that begins so; in the order of the codes. A place is found by what is on it now, all else by what was on it once as well. */
const coded: Candidates = {
  when: ({ code }) => code !== '',
  select: `
    SELECT ${kindOfCode} AS kind, subject_id AS id, CASE WHEN code = ${asked('code')} THEN ${rankOf.itself} ELSE ${rankOf.begins} END AS rank, code AS place FROM codes
     WHERE code >= ${asked('code')} COLLATE "C" AND code < (${asked('code')} || chr(1114111)) COLLATE "C"
       AND kind IN ('${letters.join("', '")}') AND subject_id IS NOT NULL AND (kind <> 'P' OR voided_at IS NULL)`,
};

/** What was struck out is found by its void code only; whether it was is looked up one after the other, until there are enough. */
const isLive = `kind IN ('part', 'place', 'job') OR ${asked('code')} <> '' OR (SELECT 1 FROM codes WHERE subject_id = in_order.id AND voided_at IS NULL LIMIT 1) IS NOT NULL`;

/**
 * The statement that says what there is: `kind`, `id`, `rank` and `order`, the best first, each once; and for each rare source of which something is there a row with its name. It is a
 * constant of the code for each way in which a question can be put: a branch that finds nothing takes time to begin, so those are left out that nothing was keyed for.
 */
export class SearchStatements {
  private readonly made = new Map<string, string>();

  constructor(private readonly registry: Pick<SearchRegistry, 'sources' | 'rare'>) {}

  of(question: Question): string {
    const isAsked = ({ when }: Pick<Candidates, 'when'>): boolean => when?.(question) ?? true;
    const candidates = [coded, ...this.registry.sources.flatMap((source) => source.candidates)];
    const { rare } = this.registry;
    const key = [question.words === 'as keyed', ...candidates.map(isAsked), ...rare.map(isAsked)].join();
    let statement = this.made.get(key);
    if (statement === undefined) {
      const tables = this.registry.sources.flatMap((source) => source.with?.(question) ?? []);
      statement = statementOf(tables, candidates.filter(isAsked), rare.filter(isAsked));
      this.made.set(key, statement);
    }
    return statement;
  }
}

function statementOf(tables: readonly string[], candidates: readonly Candidates[], rare: readonly RareSource[]): string {
  return `
    WITH ${[askedColumns, ...tables].join(',')},
    best AS (SELECT DISTINCT ON (id) kind, id, rank, place FROM (${candidates.map(({ select }) => `(${select})`).join(' UNION ALL ')}) AS found (kind, id, rank, place) ORDER BY id, rank, place COLLATE "C"),
    in_order AS (SELECT * FROM best ORDER BY rank, array_position(${list}, kind), place COLLATE "C", id OFFSET 0)
    (SELECT kind, id, rank, place AS order, NULL AS rare FROM in_order WHERE ${isLive} LIMIT ${asked('most')})
    ${rare.map(({ name, isThere }) => `UNION ALL SELECT NULL, NULL, NULL, NULL, '${name}' WHERE ${isThere}`).join('\n')}`;
}
