import type { SearchAnswer, SearchHit } from '@corewright/contracts/stores';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import { queryMeant, queryOf, wordsOf } from '../../catalogue/search/misspelt-words.js';
import { type Rank, rankOf } from '../../catalogue/search/rank.js';
import { patternsOfWords } from '../../catalogue/search-words.js';
import { Database, type Reader } from '../../platform/database/database.js';
import { cursorOf, placeOf } from '../../platform/http/next-page.js';
import { keyOfMark } from '../marks.js';
import { lastMovedOf } from './last-moved.js';
import { type Question, type RankedHit, SearchRegistry } from './search-registry.js';

/** Nobody reads on so far: who has not found it by then asks for something else. */
const hitsMax = 1000;
const markLengthMin = 3;
const kindsInOrder: readonly SearchHit['kind'][] = ['part', 'unit', 'lot', 'component', 'unsorted', 'place', 'job'];

/** One search over everything that has a number, a name, a mark or a code. */
@Injectable()
export class Search {
  constructor(
    private readonly database: Database,
    private readonly registry: SearchRegistry,
  ) {}

  async hitsFor(text: string, limit: number, cursor?: string): Promise<z.infer<typeof SearchAnswer>> {
    const start = Math.min(Math.max(0, Number(placeOf(cursor, ['number'])?.[0] ?? 0)), hitsMax);
    if (text.trim() === '') return { hits: [], cursor: null };
    const wanted = start + limit + 1;
    // one connection: in a process of Postgres for each source these would wait for one another's cores
    const { hits, moved } = await this.database.together(async (reader) => {
      const found = await this.found(reader, questionOf(text, await wordsOf(reader, text)), wanted);
      const hits = onceEach(found.sort(better));
      const unsaid = hits.slice(start, start + limit).filter((hit) => hit.lastMoved === undefined);
      return { hits, moved: await lastMovedOf(reader, unsaid) };
    });
    const shown = hits.slice(start, start + limit);
    const page = shown.map(({ rank, order: _order, successor, lastMoved, ...hit }) => ({
      ...hit,
      exact: rank <= rankOf.butForZerosOrMaker,
      successor: successor ?? null,
      lastMoved: lastMoved ?? moved.get(hit.id) ?? null,
    }));
    const end = start + limit;
    return { hits: page, cursor: hits.length > end && end < hitsMax ? cursorOf([end]) : null };
  }

  private async found(reader: Reader, question: Question, limit: number): Promise<RankedHit[]> {
    const asKeyed = await Promise.all(this.registry.all.map((source) => source(reader, question, limit)));
    if (asKeyed.some((hits) => hits.length > 0)) return asKeyed.flat();
    // Nothing has it as it was keyed: what has the words but for one letter in each, and numbers that are like it.
    const near = { ...question, sought: queryMeant(question.words), isNear: true };
    const found = await Promise.all(this.registry.forNear.map((source) => source(reader, near, limit)));
    return found.flat().map((hit) => ({ ...hit, rank: atLeastOneError(hit.rank) }));
  }
}

function atLeastOneError(rank: Rank): Rank {
  return rank < rankOf.oneError ? rankOf.oneError : rank;
}

function questionOf(text: string, words: readonly string[]): Question {
  const packed = text.replace(/\s+/g, '').toUpperCase();
  const mark = keyOfMark(text);
  return {
    text: text.trim(),
    patterns: patternsOfWords(text),
    words,
    sought: queryOf(words),
    isNear: false,
    code: /^[ULCXPJ]\d{3,11}$/.test(packed) ? packed : '',
    mark: mark.replaceAll('?', '').length >= markLengthMin ? mark : '',
  };
}

/** A thing may be found in two ways: by its set number and by its marks. The better way stands. */
function onceEach(hits: readonly RankedHit[]): RankedHit[] {
  const each = new Map<string, RankedHit>();
  for (const hit of hits) if (!each.has(hit.id)) each.set(hit.id, hit);
  return [...each.values()];
}

function better(one: RankedHit, other: RankedHit): number {
  return (
    one.rank - other.rank ||
    kindsInOrder.indexOf(one.kind) - kindsInOrder.indexOf(other.kind) ||
    compareText(one.order ?? one.name, other.order ?? other.name) ||
    compareText(one.id, other.id)
  );
}

function compareText(one: string, other: string): number {
  if (one === other) return 0;
  return one < other ? -1 : 1;
}
