import type { PartHit, PartList, PartMatch } from '@corewright/contracts/catalogue';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import { Database, type Reader } from '../../platform/database/database.js';
import { cursorOf, placeOf } from '../../platform/http/next-page.js';
import { PartStock } from '../part-stock.js';
import { successorsOf } from '../relations/relation.queries.js';
import { longestOf, patternsOfWords } from '../search-words.js';
import { type NumberAsked, numbersAsked, oneErrorFrom } from './number-asked.js';
import { findAlike, findHolding, findNumbered, findOneError, findWorded, type PartRow } from './part-search.queries.js';
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
  constructor(
    private readonly database: Database,
    private readonly stock: PartStock,
  ) {}

  /** A page, the best first. Where the number itself is there, what merely holds it waits for the next page. */
  async find({ keyed, makerId, limit, cursor }: PartsAsked): Promise<PartsFound> {
    const after = placeOf(cursor, ['number', 'string', 'uuid']) ?? [null, null, null];
    const question = { reader: this.database, ways: numbersAsked(keyed), keyed: keyed.trim(), makerId: makerId ?? null, after };
    const { rows, goOn } = await rowsFor(question, limit + 1);
    const page = rows.slice(0, limit);
    const last = page.at(-1);
    const more = rows.length > limit && last !== undefined ? [last.rank, last.place, last.id] : goOn;
    return {
      parts: await this.told(page),
      cursor: more && cursorOf(more),
      complete: !rows.some((row) => row.cut),
    };
  }

  private async told(rows: readonly PartRow[]): Promise<PartFound[]> {
    const superseded = rows.filter((row) => row.superseded).map((row) => row.id);
    const [stock, successors] = await Promise.all([
      this.stock.stockOf(
        this.database,
        rows.map((row) => row.id),
      ),
      superseded.length === 0 ? null : successorsOf(this.database, superseded),
    ]);
    return rows.map(({ superseded: _superseded, cut: _cut, ...row }) => ({
      ...row,
      match: matchOf[row.rank],
      free: stock.get(row.id)?.free ?? '0',
      places: stock.get(row.id)?.places ?? '',
      successor: successors?.get(row.id) ?? null,
    }));
  }
}

interface Stage {
  last: Rank;
  find: (question: Question, limit: number) => Promise<PartRow[]>;
}

const stages: readonly Stage[] = [
  { last: rankOf.begins, find: numbered },
  { last: rankOf.holds, find: holding },
  { last: rankOf.words, find: worded },
];

/** Only where none of those found anything: what was keyed may be misspelt. */
const nearStages: readonly Stage[] = [
  { last: rankOf.oneError, find: oneError },
  { last: rankOf.alike, find: alike },
];

/** After everything that begins with the number. */
const afterBeginnings: Cursor = [rankOf.begins, '\u{10ffff}', 'ffffffff-ffff-ffff-ffff-ffffffffffff'];

/** Goes from stage to stage until there is enough. A page that goes on begins with the stage where the one before it ended. */
async function rowsFor(question: Question, limit: number): Promise<{ rows: PartRow[]; goOn: Cursor | null }> {
  const begun = question.after[0];
  const rows: PartRow[] = [];
  const isAhead = ({ last }: Stage): boolean => begun === null || Number(begun) <= last;
  for (const stage of stages.filter(isAhead)) {
    if (rows.length >= limit) break;
    rows.push(...(await stage.find(question, limit - rows.length)));
    if (rows.length < limit && rows.some(({ rank }) => rank <= rankOf.butForZerosOrMaker)) return { rows, goOn: afterBeginnings };
  }
  const isNearWanted = rows.length === 0 && (begun === null || Number(begun) > rankOf.words);
  for (const stage of nearStages.filter(isAhead))
    if (isNearWanted && rows.length === 0) rows.push(...(await stage.find(question, limit)));
  return { rows, goOn: null };
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
