import { Injectable, type OnModuleInit } from '@nestjs/common';
import { type PartFound, PartSearch } from '../../catalogue/search/part-search.js';
import { mayBeNumbered, partsInWordsTable, partsWordedTables } from '../../catalogue/search/part-search.queries.js';
import { rankOf } from '../../catalogue/search/rank.js';
import type { Reader } from '../../platform/database/database.js';
import { searchKeptSets } from '../kept-sets/search-kept-sets.js';
import { placesBrief } from '../place.queries.js';
import { codeOf, codeSaid, factsOfKind, holderWords, nameOfKind, typeName } from '../place-words.js';
import { asked, type Question } from './question.js';
import { type Found, type RankedHit, SearchRegistry, type Shown } from './search-registry.js';
import { letterOf } from './search-statement.js';

/** Says what parts, things and places there are to find. */
@Injectable()
export class StoresSources implements OnModuleInit {
  constructor(
    private readonly registry: SearchRegistry,
    private readonly search: PartSearch,
  ) {}

  onModuleInit(): void {
    this.registry.register({
      kinds: ['part'],
      with: ({ words }) => (words === 'as keyed' ? partsWordedTables : partsInWordsTable),
      candidates: [
        {
          when: ({ words }) => typeof words === 'string',
          select: `SELECT 'part', part_id, ${rankOf.words}, name FROM parts_worded`,
        },
      ],
      shown: async (reader, found) => (await this.search.shown(reader, idsOf(found))).map(shownPart),
    });
    this.registry.registerRare({
      name: 'part numbers',
      isThere: mayBeNumbered,
      when: ({ numbers, words }) => words === 'as keyed' && numbers.length > 0,
      find: async (reader, { text }, limit) => (await this.search.numbered(reader, text, limit)).map(rankedPart),
    });
    this.registry.registerRare(searchKeptSets);
    this.registry.register({ kinds: thingKinds, with: () => unitsOfTypes, candidates: thingsFound, shown: thingsShown });
    this.registry.register({ kinds: ['place'], candidates: [{ select: placesFound }], shown: placesShown });
    this.registry.registerNear(async (reader, { text }, words, limit) =>
      (await this.search.near(reader, text, words, limit)).map(rankedPart),
    );
  }
}

function rankedPart(part: PartFound): RankedHit {
  return { ...shownPart(part), rank: part.rank, order: part.place };
}

function shownPart(part: PartFound): Shown {
  return {
    kind: 'part',
    id: part.id,
    code: null,
    name: part.name,
    detail: [part.number, part.maker, foundAs(part)].filter((words) => words !== '').join(', '),
    where: part.places,
    quantity: withUnit(part.free, part.unitOfMeasure),
    successor: part.successor,
    lastMoved: null,
  };
}

function foundAs(part: { number: string; matchedNumber: string | null }): string {
  return part.matchedNumber === null || part.matchedNumber === part.number ? '' : `found as ${part.matchedNumber}`;
}

/** "12", "250 g": "each" goes without saying. */
function withUnit(quantity: string, unitOfMeasure: string | null): string {
  return unitOfMeasure === null || unitOfMeasure === 'each' ? quantity : `${quantity} ${unitOfMeasure}`;
}

/** A mark that was asked for whole, or a piece of one. */
const markRank = `CASE WHEN ${asked('mark')} = ANY (string_to_array(marks_key, ' ')) THEN ${rankOf.itself} ELSE ${rankOf.holds} END`;

/** More than anybody reads through. */
const wordedMax = 1001;

/** SQL: things of a kind, with what they stand by in the list; each reads only what belongs to its kind. */
const unitsWhere = (rank: string, condition: string): string => `
  SELECT 'unit', units.thing_id, ${rank}, '1' || ${nameOfKind.U} FROM units LEFT JOIN unit_types ON unit_types.id = units.unit_type_id WHERE ${condition} LIMIT ${wordedMax}`;
const lotsWhere = (condition: string): string => `
  SELECT 'lot', lots.thing_id, ${rankOf.words}, ${nameOfKind.L} FROM lots LEFT JOIN parts ON parts.id = lots.part_id WHERE ${condition} LIMIT ${wordedMax}`;
const othersWhere = (kind: 'component' | 'unsorted', table: string, name: string, condition: string): string => `
  SELECT '${kind}', thing_id, ${rankOf.words}, ${name} FROM ${table} WHERE ${condition} LIMIT ${wordedMax}`;
const inWords = (sought: string): string => `${sought} @@ ${asked('words')}`;
const inPieces = (words: string): string =>
  `${words} ILIKE ${asked('longest')} AND ${words} ILIKE ALL (${asked('patterns')}::text[])`;

const isKeyed = ({ words }: Question): boolean => words === 'as keyed';
const isLegible = (question: Question): boolean => isKeyed(question) && question.mark !== '' && !question.mark.includes('?');
const isPartlyLegible = (question: Question): boolean => isKeyed(question) && question.mark.includes('?');

/** SQL: units that are found by the words of their type alone, as many as could be shown: a type may have hundreds. They stand before those of which more had to be read. */
const unitsOfTypes = `
  units_of_types AS MATERIALIZED (
    SELECT of_type.id, kind FROM unit_types CROSS JOIN LATERAL (
      SELECT thing_id AS id FROM units WHERE unit_type_id = unit_types.id AND (SELECT 1 FROM codes WHERE subject_id = thing_id AND voided_at IS NULL LIMIT 1) IS NOT NULL
       ORDER BY thing_id LIMIT ${asked('most')}) AS of_type
     WHERE ${inWords('unit_types.sought')} ORDER BY kind COLLATE "C", of_type.id LIMIT ${asked('most')})`;

/**
 * By mark with `?` for any character on either side, and by words. A mark without one is looked for by the index of pieces, and beside it among the few marks
 * that were not read whole. The longest word goes to the index of pieces first.
 */
const thingsFound = [
  { when: isLegible, select: unitsWhere(markRank, `marks_key LIKE '%' || ${asked('mark')} || '%'`) },
  { when: isLegible, select: unitsWhere(markRank, `marks_key ~ ${asked('mark_pattern')} AND strpos(marks_key, '?') > 0`) },
  { when: isPartlyLegible, select: unitsWhere(markRank, `marks_key ~ ${asked('mark_pattern')}`) },
  { select: `SELECT 'unit', id, ${rankOf.words}, '0' || kind FROM units_of_types` },
  {
    select: unitsWhere(
      String(rankOf.words),
      `(SELECT count(*) FROM units_of_types) < ${asked('most')} AND ${inWords('units.sought')}`,
    ),
  },
  { select: lotsWhere(inWords('lots.sought')) },
  { select: othersWhere('component', 'components', nameOfKind.C, inWords('sought')) },
  { select: othersWhere('unsorted', 'unsorted_boxes', nameOfKind.X, inWords('sought')) },
  { when: isKeyed, select: lotsWhere(inPieces("lots.words || ' ' || lots.marks")) },
  { when: isKeyed, select: othersWhere('unsorted', 'unsorted_boxes', nameOfKind.X, inPieces('words')) },
];

const partNumber = '(SELECT number FROM part_numbers WHERE part_id = lots.part_id ORDER BY is_main DESC, id LIMIT 1)';
/** SQL: what distinguishes a thing of the kind from others that are called the same. */
const detailOf = {
  unit: `concat_ws(', ', nullif(${typeName}, ''), nullif(units.marks, ''))`,
  lot: `concat_ws(', ', ${partNumber}, nullif(lots.marks, ''))`,
  component: `'off ' || ${codeSaid('components.unit_id')}`,
  unsorted: "''",
} as const;
type ThingKind = keyof typeof detailOf;
const thingKinds = Object.keys(detailOf) as ThingKind[];

/** SQL: the code of a thing, where it is and what must hold so that these say it all. Nearly everything bears a label and lies with us, and to begin asking for more takes longer than to see that. */
const plain = {
  code: '(SELECT given.code FROM codes AS given WHERE given.subject_id = best.id AND voided_at IS NULL AND NOT further)',
  where: `(SELECT string_agg(path, '; ' ORDER BY quantity DESC, holder_id) FROM balances JOIN places USING (holder_id) WHERE thing_id = best.id AND with_us AND quantity > 0)`,
  holds: `WHERE (SELECT 1 FROM codes WHERE subject_id = best.id AND voided_at IS NULL AND NOT further LIMIT 1) IS NOT NULL
            AND (SELECT 1 FROM balances WHERE thing_id = best.id AND NOT with_us AND quantity > 0 LIMIT 1) IS NULL`,
};
const whole = {
  code: codeOf('best.id'),
  where: `(SELECT string_agg(${holderWords('holders.id', 'holders.kind')}, '; ' ORDER BY quantity DESC, holders.id)
            FROM balances JOIN holders ON holders.id = holder_id WHERE thing_id = best.id AND quantity > 0)`,
  holds: '',
};

/** What is said of the things $1: a statement for each kind, which reads only what belongs to it. */
const selectThings = (kind: ThingKind, { code, where, holds }: typeof plain): string => `
  SELECT best.id, ${code} AS code, ${nameOfKind[letterOf[kind]]} AS name, ${kind === 'lot' ? 'parts.unit_of_measure' : "'each'"} AS "unitOfMeasure",
         concat_ws(', ', nullif(${detailOf[kind]}, ''), 'property of ' || owners.name,
           CASE WHEN condemned THEN 'condemned' END, CASE WHEN missing_since IS NOT NULL THEN 'looked for and not found' END) AS detail,
         coalesce(${where}, '') AS where, trim_scale(held)::text AS quantity, last_moved.at AS "movedAt", coalesce(people.display_name, '') AS "movedBy"
    FROM unnest((SELECT $1::uuid[])) AS best (id) JOIN things ON things.id = best.id ${factsOfKind[letterOf[kind]]} LEFT JOIN parties AS owners ON owners.id = owner_id
    LEFT JOIN LATERAL (SELECT occurred_at AS at, person_id FROM movements WHERE movements.thing_id = best.id ORDER BY sequence DESC LIMIT 1) AS last_moved ON true
    LEFT JOIN people ON people.id = last_moved.person_id ${holds}`;
const ofEachKind = (pieces: typeof plain): Record<ThingKind, string> =>
  Object.fromEntries(thingKinds.map((kind) => [kind, selectThings(kind, pieces)])) as Record<ThingKind, string>;
const plainThings = ofEachKind(plain);
const wholeThings = ofEachKind(whole);

type ThingRow = Omit<Shown, 'kind' | 'lastMoved'> & { unitOfMeasure: string | null; movedAt: string | null; movedBy: string };

async function thingsShown(reader: Reader, found: readonly Found[]): Promise<Shown[]> {
  const each = await Promise.all(
    thingKinds.map((kind) => thingsOfKind(reader, kind, idsOf(found.filter((hit) => hit.kind === kind)))),
  );
  return each.flat();
}

async function thingsOfKind(reader: Reader, kind: ThingKind, ids: readonly string[]): Promise<Shown[]> {
  if (ids.length === 0) return [];
  const rows = await reader.rows<ThingRow & Record<string, unknown>>(plainThings[kind], [ids]);
  if (rows.length < ids.length) {
    const said = new Set(rows.map(({ id }) => id));
    rows.push(...(await reader.rows<ThingRow & Record<string, unknown>>(wholeThings[kind], [ids.filter((id) => !said.has(id))])));
  }
  return rows.map(({ unitOfMeasure, movedAt, movedBy, ...hit }) => ({
    ...hit,
    kind,
    quantity: withUnit(hit.quantity, unitOfMeasure),
    lastMoved: movedAt === null ? null : { at: movedAt, by: movedBy },
  }));
}

const placesFound = `
  SELECT 'place', holder_id, CASE WHEN lower(name) = ${asked('name')} THEN ${rankOf.itself} ELSE ${rankOf.words} END, path
    FROM places WHERE ${inWords('sought')} LIMIT ${wordedMax}`;

async function placesShown(reader: Reader, found: readonly Found[]): Promise<Shown[]> {
  return (await placesBrief(reader, idsOf(found))).map((place) => ({
    kind: 'place',
    id: place.id,
    code: place.code,
    name: place.name,
    detail: place.kind,
    where: place.path,
    quantity: place.thingCount === 0 ? 'empty' : place.thingCount === 1 ? '1 thing' : `${place.thingCount} things`,
  }));
}

function idsOf(found: readonly Found[]): string[] {
  return found.map(({ id }) => id);
}
