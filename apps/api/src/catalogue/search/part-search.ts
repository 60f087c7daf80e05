import type { PartHit, PartList, PartMatch } from '@corewright/contracts/catalogue';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import { Database, type Reader } from '../../platform/database/database.js';
import { cursorOf, placeOf } from '../../platform/http/next-page.js';
import { PartStock } from '../part-stock.js';
import { successorsOf } from '../relations/relation.queries.js';
import { longestOf, patternsOfWords } from '../search-words.js';
import { queryMeant, wordsOf } from './misspelt-words.js';
import { type NumberAsked, numbersAsked, oneErrorFrom } from './number-asked.js';
import { type PartRow, type PartStatements, partStatements, pieceLengthMin } from './part-search.queries.js';
import { type Rank, rankOf } from './rank.js';

export interface PartsAsked {
  keyed: string;
  makerId?: string | undefined;
  limit: number;
  cursor?: string | undefined;
}

export type PartFound = PartHit & { rank: Rank; place: string };
export type PartsFound = Omit<z.infer<typeof PartList>, 'parts'> & { parts: PartFound[] };

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
  statements: PartStatements;
  ways: readonly NumberAsked[];
  keyed: string;
  makerId: string | null;
  after: readonly (string | number | null)[];
}

/** Finds parts by number, however keyed, and by word, with what each became and what is in stores. */
@Injectable()
export class PartSearch {
  /** Made at the first search: stores says how its stock is asked for only when all areas are there. */
  private statements: PartStatements | null = null;

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
    const question = { ...this.asked(this.database, keyed), makerId: makerId ?? null, after: after ?? fromTheFirst };
    const exact = after === null ? await itself(question) : [];
    if (exact.length > 0)
      return {
        parts: await told(question, exact.slice(0, limit)),
        cursor: cursorAfter(exact, limit) ?? cursorOf(afterItself),
        complete: true,
      };
    const rows = await rowsFor(question, limit + 1);
    const parts = await told(question, rows.slice(0, limit));
    return { parts, cursor: cursorAfter(rows, limit), complete: !rows.some((row) => row.cut) };
  }

  /** Parts of whose numbers what was keyed is one, or a piece of one; the best first. */
  async numbered(reader: Reader, keyed: string, limit: number): Promise<PartFound[]> {
    const question = this.asked(reader, keyed);
    return told(question, await numbered(question, limit));
  }

  /** Parts near to what was keyed, of which none has it as it stands. @param words what was keyed as `wordsOf` reads it */
  async near(reader: Reader, keyed: string, words: readonly string[], limit: number): Promise<PartFound[]> {
    const question = this.asked(reader, keyed);
    return told(question, await near(question, rankOf.itself, limit, words));
  }

  /** These parts, as found by a word, in any order. */
  async shown(reader: Reader, partIds: readonly string[]): Promise<PartFound[]> {
    const question = this.asked(reader, '');
    return told(question, await reader.rows<PartRow>(question.statements.ofIds, [partIds]));
  }

  private asked(reader: Reader, keyed: string): Question {
    this.statements ??= partStatements(this.stock.columns('parts.id'));
    return {
      reader,
      statements: this.statements,
      ways: numbersAsked(keyed),
      keyed: keyed.trim(),
      makerId: null,
      after: fromTheFirst,
    };
  }
}

/** What was found, with what those became that are superseded; the others are not asked about. */
async function told({ reader }: Question, rows: readonly PartRow[]): Promise<PartFound[]> {
  const superseded = rows.filter((row) => row.isSuperseded);
  const successors = superseded.length === 0 ? null : await successorsOf(reader, superseded);
  return rows.map(({ cut: _cut, isSuperseded: _superseded, ...row }) => ({
    ...row,
    match: matchOf[row.rank],
    successor: successors?.get(row.id) ?? null,
  }));
}

function cursorAfter(rows: readonly Pick<PartRow, 'rank' | 'place' | 'id'>[], limit: number): string | null {
  const last = rows[limit - 1];
  return rows.length > limit && last !== undefined ? cursorOf([last.rank, last.place, last.id]) : null;
}

const fromTheFirst = [null, null, null];

/** After every part that has the number itself. */
const afterItself: Cursor = [rankOf.itself, '\u{10ffff}', 'ffffffff-ffff-ffff-ffff-ffffffffffff'];

/** Goes from stage to stage until there is enough. A page that goes on begins with the stage where the one before it ended. */
async function rowsFor(question: Question, limit: number): Promise<PartRow[]> {
  const begun = Number(question.after[0] ?? rankOf.itself) as Rank;
  const isFirst = question.after[0] === null;
  const rows = await asKeyed(question, begun, limit);
  // Only where nothing else was found: what was keyed may be misspelt.
  const isNear = rows.length === 0 && (isFirst || begun > rankOf.words);
  return isNear ? near(question, begun, limit) : rows;
}

async function near(question: Question, begun: Rank, limit: number, words?: readonly string[]): Promise<PartRow[]> {
  const rows = begun <= rankOf.oneError ? await oneError(question, limit) : [];
  if (rows.length === 0) rows.push(...(await misspelt(question, limit, words)));
  return rows.length === 0 ? alike(question, limit) : rows;
}

/** What is of several words is hardly a number, and so is asked for as both at once. */
async function asKeyed(question: Question, begun: Rank, limit: number): Promise<PartRow[]> {
  const isNumbered = begun <= rankOf.holds;
  const isWorded = begun <= rankOf.words;
  if (isNumbered && isWorded && /\s/.test(question.keyed)) {
    const [numbers, words] = await Promise.all([numbered(question, limit), worded(question, limit)]);
    return [...numbers, ...words].slice(0, limit);
  }
  const rows = isNumbered ? await numbered(question, limit) : [];
  if (isWorded && rows.length < limit) rows.push(...(await worded(question, limit - rows.length)));
  return rows;
}

function asked({ ways, makerId, after }: Question, limit: number): unknown[] {
  return [ways.map((way) => way.key), ways.map((way) => way.text), ways.map((way) => way.makerLike), makerId, ...after, limit];
}

function keyOf({ ways }: Question): string {
  return ways[0]?.key ?? '';
}

/** A part may have the number twice, of two makers: it stands once. */
async function itself(question: Question): Promise<PartRow[]> {
  const key = keyOf(question);
  if (key === '') return [];
  const rows = await question.reader.rows<PartRow>(question.statements.itself, [key, question.makerId]);
  return [...new Map(rows.toReversed().map((row) => [row.id, row])).values()].toReversed();
}

async function numbered(question: Question, limit: number): Promise<PartRow[]> {
  if (question.ways.length === 0) return [];
  return question.reader.rows<PartRow>(question.statements.numbered, asked(question, limit));
}

async function worded(question: Question, limit: number): Promise<PartRow[]> {
  const key = keyOf(question);
  const patterns = patternsOfWords(question.keyed);
  const numberPattern = key === '' ? '' : key.length < pieceLengthMin ? `${key}%` : `%${key}%`;
  const values = [...asked(question, limit), numberPattern, longestOf(patterns) || '%', patterns];
  return question.reader.rows<PartRow>(question.statements.worded, values);
}

/** Of "Brantock 12-346" the number may be wrong and the maker right, so each way of reading it is tried. */
async function oneError(question: Question, limit: number): Promise<PartRow[]> {
  const wanted = question.ways.flatMap((way, index) => oneErrorFrom(way.key).map((key) => ({ key, way: index + 1 })));
  if (wanted.length === 0) return [];
  const values = [...asked(question, limit), wanted.map(({ key }) => key), wanted.map(({ way }) => way)];
  return question.reader.rows<PartRow>(question.statements.oneError, values);
}

async function misspelt(question: Question, limit: number, words?: readonly string[]): Promise<PartRow[]> {
  if (question.ways.length === 0) return [];
  const meant = queryMeant(words ?? (await wordsOf(question.reader, question.keyed)));
  return meant === null ? [] : question.reader.rows<PartRow>(question.statements.misspelt, [...asked(question, limit), meant]);
}

async function alike(question: Question, limit: number): Promise<PartRow[]> {
  return question.ways.length === 0 ? [] : question.reader.rows<PartRow>(question.statements.alike, asked(question, limit));
}
