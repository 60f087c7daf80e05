import type { PartHit, PartList, PartMatch } from '@corewright/contracts/catalogue';
import type { Successor } from '@corewright/contracts/relations';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import { Database, type Reader } from '../../platform/database/database.js';
import { cursorOf, placeOf } from '../../platform/http/next-page.js';
import { PartStock, type StockOfPart } from '../part-stock.js';
import { type SuccessorOf, successorsOf } from '../relations/relation.queries.js';
import { longestOf, patternsOfWords } from '../search-words.js';
import { type NumberAsked, numbersAsked, oneErrorFrom } from './number-asked.js';
import {
  findAlike,
  findHolding,
  findItself,
  findNumbered,
  findOneError,
  findWorded,
  type PartItselfRow,
  type PartRow,
} from './part-search.queries.js';
import { type Rank, rankOf } from './rank.js';

export interface PartsAsked {
  keyed: string;
  makerId?: string | undefined;
  limit: number;
  cursor?: string | undefined;
}

export type PartFound = PartHit & { rank: Rank; place: string };
export type PartsFound = Omit<z.infer<typeof PartList>, 'parts'> & { parts: PartFound[] };

/** A number of fewer characters is looked for at the beginning only: in the middle it would be found everywhere. */
const fragmentLengthMin = 3;

const matchOf: Record<Rank, PartMatch> = {
  [rankOf.itself]: 'itself',
  [rankOf.butForZerosOrMaker]: 'but for zeros or maker',
  [rankOf.begins]: 'begins',
  [rankOf.holds]: 'holds',
  [rankOf.words]: 'words',
  [rankOf.oneError]: 'one error',
  [rankOf.alike]: 'alike',
};

type Cursor = readonly [rank: number, place: string, partId: string];

/**
 * What was keyed, for every statement alike: $1 keys, $2 texts, $3 makers, $4 maker to search, $5 to $7 the place after which
 * to go on, $8 how many.
 */
interface Question {
  reader: Reader;
  ways: readonly NumberAsked[];
  keyed: string;
  makerId: string | null;
  after: readonly (string | number | null)[];
}

/** Finds parts by number, however keyed, and by word, with what each became and what is in stores. */
@Injectable()
export class PartSearch {
  /** Made at the first search: stores says how its stock is asked for only when all areas are there. */
  private itselfStatement: string | null = null;

  constructor(
    private readonly database: Database,
    private readonly stock: PartStock,
  ) {}

  /**
   * A page, the best first. Where the number itself is there, the page ends with it: what is like it waits for the next one, so that who
   * keys a number in full does not wait for all that holds it.
   */
  async find({ keyed, makerId, limit, cursor }: PartsAsked): Promise<PartsFound> {
    const after = placeOf(cursor, ['number', 'string', 'uuid']);
    const ways = numbersAsked(keyed);
    const question = {
      reader: this.database,
      ways,
      keyed: keyed.trim(),
      makerId: makerId ?? null,
      after: after ?? [null, null, null],
    };
    const exact = after === null && ways.length > 0 ? await this.itself(question) : [];
    if (exact.length > 0)
      return { parts: exact.slice(0, limit), cursor: cursorAfter(exact, limit) ?? cursorOf(afterItself), complete: true };
    const rows = await rowsFor(question, limit + 1);
    const parts = await this.told(rows.slice(0, limit));
    return { parts, cursor: cursorAfter(rows, limit), complete: !rows.some((row) => row.cut) };
  }

  private async itself({ reader, ways, makerId }: Question): Promise<PartFound[]> {
    this.itselfStatement ??= findItself(this.stock.columns('parts.id'));
    const rows = await reader.rows<PartItselfRow>(this.itselfStatement, [ways[0]?.key ?? '', makerId]);
    const once = [...new Map(rows.toReversed().map((row) => [row.id, row])).values()].toReversed();
    const successors = await successorsIn(reader, once);
    return once.map(({ free, places, ...row }) => foundAs(row, { free, places }, successors(row.id)));
  }

  private async told(rows: readonly PartRow[]): Promise<PartFound[]> {
    const ids = rows.map((row) => row.id);
    if (ids.length === 0) return [];
    const [stock, successors] = await this.database.together((reader) =>
      Promise.all([this.stock.stockOf(reader, ids), successorsIn(reader, rows)]),
    );
    return rows.map((row) => foundAs(row, stock.get(row.id), successors(row.id)));
  }
}

/** What those became that are superseded; the others are not asked about. */
async function successorsIn(reader: Reader, rows: readonly PartRow[]): Promise<SuccessorOf> {
  const superseded = rows.filter((row) => row.isSuperseded).map((row) => row.id);
  return superseded.length === 0 ? () => null : successorsOf(reader, superseded);
}

function foundAs(
  { cut: _cut, isSuperseded: _superseded, ...row }: PartRow,
  stock: StockOfPart | undefined,
  successor: Successor | null,
): PartFound {
  const { free = '0', places = '' } = stock ?? {};
  return { ...row, match: matchOf[row.rank], free, places, successor };
}

function cursorAfter(rows: readonly Pick<PartRow, 'rank' | 'place' | 'id'>[], limit: number): string | null {
  const last = rows[limit - 1];
  return rows.length > limit && last !== undefined ? cursorOf([last.rank, last.place, last.id]) : null;
}

/** After every part that has the number itself. */
const afterItself: Cursor = [rankOf.itself, '\u{10ffff}', 'ffffffff-ffff-ffff-ffff-ffffffffffff'];

/** Goes from stage to stage until there is enough. A page that goes on begins with the stage where the one before it ended. */
async function rowsFor(question: Question, limit: number): Promise<PartRow[]> {
  const begun = Number(question.after[0] ?? rankOf.itself);
  const isFirst = question.after[0] === null;
  const none: PartRow[] = [];
  const [numbers, pieces] = await Promise.all([
    begun <= rankOf.begins ? numbered(question, limit) : none,
    begun <= rankOf.holds ? holding(question, limit) : none,
  ]);
  const rows = [...numbers, ...pieces].slice(0, limit);
  if (begun <= rankOf.words && rows.length < limit) rows.push(...(await worded(question, limit - rows.length)));
  const isNear = rows.length === 0 && (isFirst || begun > rankOf.words);
  if (isNear && begun <= rankOf.oneError) rows.push(...(await oneError(question, limit)));
  // Only where nothing else was found: what was keyed may be misspelt.
  if (isNear && rows.length === 0) rows.push(...(await alike(question, limit)));
  return rows;
}

function asked({ reader: _reader, ways, makerId, after }: Question, limit: number): unknown[] {
  return [ways.map((way) => way.key), ways.map((way) => way.text), ways.map((way) => way.makerLike), makerId, ...after, limit];
}

async function numbered(question: Question, limit: number): Promise<PartRow[]> {
  if (question.ways.length === 0) return [];
  return question.reader.rows<PartRow>(findNumbered, asked(question, limit));
}

function keyOf({ ways }: Question): string {
  return ways[0]?.key ?? '';
}

async function holding(question: Question, limit: number): Promise<PartRow[]> {
  const key = keyOf(question);
  if (key.length < fragmentLengthMin) return [];
  return question.reader.rows<PartRow>(findHolding, [...asked(question, limit), `_%${key}%`]);
}

async function worded(question: Question, limit: number): Promise<PartRow[]> {
  const key = keyOf(question);
  const patterns = patternsOfWords(question.keyed);
  const numberPattern = key === '' ? '' : key.length < fragmentLengthMin ? `${key}%` : `%${key}%`;
  const values = [...asked(question, limit), numberPattern, longestOf(patterns) || '%', patterns];
  return question.reader.rows<PartRow>(findWorded, values);
}

/** Of "Brantock 12-346" the number may be wrong and the maker right, so each way of reading it is tried. */
async function oneError(question: Question, limit: number): Promise<PartRow[]> {
  const wanted = question.ways.flatMap((way, index) => oneErrorFrom(way.key).map((key) => ({ key, way: index + 1 })));
  if (wanted.length === 0) return [];
  const values = [...asked(question, limit), wanted.map(({ key }) => key), wanted.map(({ way }) => way)];
  return question.reader.rows<PartRow>(findOneError, values);
}

async function alike(question: Question, limit: number): Promise<PartRow[]> {
  return question.ways.length === 0 ? [] : question.reader.rows<PartRow>(findAlike, asked(question, limit));
}
