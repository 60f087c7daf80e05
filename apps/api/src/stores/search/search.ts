import type { SearchAnswer, SearchHit } from '@corewright/contracts/stores';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import { queryMeant, wordsOf } from '../../catalogue/search/misspelt-words.js';
import { type Rank, rankOf } from '../../catalogue/search/rank.js';
import { Database, type Reader } from '../../platform/database/database.js';
import { cursorOf, placeOf } from '../../platform/http/next-page.js';
import { lastMovedOf } from './last-moved.js';
import { askedValues, type Question, questionOf } from './question.js';
import { type Found, type RankedHit, SearchRegistry, type Shown } from './search-registry.js';
import { kindsInOrder, SearchStatements } from './search-statement.js';

/** Nobody reads on so far: who has not found it by then asks for something else. */
const hitsMax = 1000;

/** A hit that is in words already, or what one is still to be put into. */
type Hit = Found & { shown?: Shown };

/**
 * One search over everything that has a number, a name, a mark or a code. One statement says what there is and in which order; what few questions find is
 * looked for by a statement of its own where that one says that it is there; and what is on the page is put into words last.
 */
@Injectable()
export class Search {
  private readonly statements: SearchStatements;

  constructor(
    private readonly database: Database,
    private readonly registry: SearchRegistry,
  ) {
    this.statements = new SearchStatements(registry);
  }

  async hitsFor(text: string, limit: number, cursor?: string): Promise<z.infer<typeof SearchAnswer>> {
    const start = Math.min(Math.max(0, Number(placeOf(cursor, ['number'])?.[0] ?? 0)), hitsMax);
    if (text.trim() === '') return { hits: [], cursor: null };
    const end = start + limit;
    // one connection: in a process of Postgres for each these would wait for one another's cores
    const { hits, more } = await this.database.together(async (reader) => {
      const found = await this.found(reader, questionOf(text), end + 1);
      return { hits: await this.said(reader, found.slice(start, end)), more: found.length > end && end < hitsMax };
    });
    return { hits, cursor: more ? cursorOf([end]) : null };
  }

  private async found(reader: Reader, question: Question, most: number): Promise<Hit[]> {
    const asKeyed = await this.ask(reader, question, most);
    if (asKeyed.length > 0) return asKeyed;
    const begun = await this.ask(reader, { ...question, words: 'begun' }, most);
    return begun.length > 0 ? begun : this.near(reader, question, most);
  }

  /** Nothing has it as it was keyed: what has the words but for one letter in each, and numbers that are like it. */
  private async near(reader: Reader, question: Question, most: number): Promise<Hit[]> {
    const words = await wordsOf(reader, question.text);
    const meant = queryMeant(words);
    const each = await Promise.all([
      meant === null ? [] : this.ask(reader, { ...question, words: { meant } }, most),
      ...this.registry.near.map(async (find) => (await find(reader, question, words, most)).map(inWords)),
    ]);
    return inOrder(each.flat().map((hit) => ({ ...hit, rank: atLeastOneError(hit.rank) })));
  }

  private async ask(reader: Reader, question: Question, most: number): Promise<Hit[]> {
    const rows = await reader.rows<Found & { rare: string | null } & Record<string, unknown>>(
      this.statements.of(question),
      askedValues(question, most),
    );
    const there = new Set(rows.map(({ rare }) => rare));
    const rare = this.registry.rare.filter(({ name }) => there.has(name));
    const hits: Hit[] = rows.filter((row) => row.rare === null);
    if (rare.length === 0) return hits;
    const found = await Promise.all(rare.map((source) => source.find(reader, question, most)));
    return inOrder([...found.flat().map(inWords), ...hits]);
  }

  /** These hits in words. What somebody took out of the books meanwhile is left out. */
  private async said(reader: Reader, hits: readonly Hit[]): Promise<SearchHit[]> {
    const unsaid = hits.filter(({ shown }) => shown === undefined);
    const said = await Promise.all(
      this.registry.sources.map((source) => {
        const found = unsaid.filter(({ kind }) => source.kinds.includes(kind));
        return found.length === 0 ? [] : source.shown(reader, found);
      }),
    );
    const wordsOfId = new Map(said.flat().map((shown) => [shown.id, shown]));
    const all = hits.flatMap(({ id, rank, shown = wordsOfId.get(id) }) => (shown === undefined ? [] : [{ ...shown, rank }]));
    const moved = await lastMovedOf(
      reader,
      all.filter((hit) => hit.lastMoved === undefined),
    );
    return all.map(({ rank, successor, lastMoved, ...hit }) => ({
      ...hit,
      exact: rank <= rankOf.butForZerosOrMaker,
      successor: successor ?? null,
      lastMoved: lastMoved ?? moved.get(hit.id) ?? null,
    }));
  }
}

function inWords({ rank, order, ...shown }: RankedHit): Hit {
  return { kind: shown.kind, id: shown.id, rank, order, shown };
}

function atLeastOneError(rank: Rank): Rank {
  return rank < rankOf.oneError ? rankOf.oneError : rank;
}

/** The best first. A thing may be found in two ways, by its set number and by its marks: the better way stands, and of two that are as good the first. */
function inOrder(hits: readonly Hit[]): Hit[] {
  const each = new Map<string, Hit>();
  for (const hit of [...hits].sort(better)) if (!each.has(hit.id)) each.set(hit.id, hit);
  return [...each.values()];
}

function better(one: Hit, other: Hit): number {
  return (
    one.rank - other.rank ||
    kindsInOrder.indexOf(one.kind) - kindsInOrder.indexOf(other.kind) ||
    compareText(one.order, other.order) ||
    compareText(one.id, other.id)
  );
}

function compareText(one: string, other: string): number {
  if (one === other) return 0;
  return one < other ? -1 : 1;
}
