import type { SearchHit } from '@corewright/contracts/stores';
import { Injectable } from '@nestjs/common';
import type { Rank } from '../../catalogue/search/rank.js';
import type { Reader } from '../../platform/database/database.js';
import type { Question } from './question.js';

type KindFound = SearchHit['kind'];

/** What was found, not yet said: `order` is where it stands among those of its rank and kind. */
export interface Found {
  kind: KindFound;
  id: string;
  rank: Rank;
  order: string;
}

export type Shown = Omit<SearchHit, 'exact' | 'successor' | 'lastMoved'> & {
  successor?: SearchHit['successor'];
  /** left out, it is looked up where the hit is a thing */
  lastMoved?: SearchHit['lastMoved'];
};

/** One way in which a source finds. */
export interface Candidates {
  /**
   * SQL: a SELECT that gives `kind`, `id`, `rank` and `place` (text, where it stands among its like), reading what was keyed from `asked` (`question.ts`). It goes into
   * one statement with those of all sources, so it is to join only what it needs to know what there is.
   */
  select: string;
  /** only where this holds of what was keyed; left out, always */
  when?: (question: Question) => boolean;
}

/** Something that is found by words, and put into words afterwards: only what is on the page is. */
export interface SearchSource {
  kinds: readonly KindFound[];
  candidates: readonly Candidates[];
  /** SQL: common table expressions that they read */
  with?: (question: Question) => string;
  /** Says what these are, in any order. */
  shown(reader: Reader, found: readonly Found[]): Promise<Shown[]>;
}

export type RankedHit = Shown & Pick<Found, 'rank' | 'order'>;

/** Something that few questions ask for, and that costs much to look for: it is looked for only where it is there. */
export interface RareSource {
  name: string;
  /** SQL: a condition, cheap to see, that holds wherever something is to be found; it reads `asked` */
  isThere: string;
  when: (question: Question) => boolean;
  /** Finds at most so many, the best first: by rank, then order, then id. */
  find(reader: Reader, question: Question, limit: number): Promise<RankedHit[]>;
}

/** Finds what is near to what was keyed, where nothing has it as it stands. @param words what was keyed as the indexes know it */
export type NearSource = (reader: Reader, question: Question, words: readonly string[], limit: number) => Promise<RankedHit[]>;

/** The one search asks every area that has something to find. */
@Injectable()
export class SearchRegistry {
  readonly sources: SearchSource[] = [];
  readonly rare: RareSource[] = [];
  readonly near: NearSource[] = [];

  register(source: SearchSource): void {
    this.sources.push(source);
  }

  registerRare(source: RareSource): void {
    this.rare.push(source);
  }

  registerNear(source: NearSource): void {
    this.near.push(source);
  }
}
