import type { SearchHit } from '@corewright/contracts/stores';
import { Injectable } from '@nestjs/common';
import type { Rank } from '../../catalogue/search/rank.js';
import type { Reader } from '../../platform/database/database.js';

/** What was keyed, read in the ways in which it may be meant. */
export interface Question {
  text: string;
  /** each word as a pattern; all of them must be found */
  patterns: readonly string[];
  /** what the words can have been meant for, as a query of the database, where nothing was found by the words themselves; else null */
  meant: string | null;
  /** a code or the beginning of one; empty where it is none */
  code: string;
  /** a mark as letters, digits and `?`; empty where it is too short to tell anything */
  mark: string;
}

/** `order` is where it stands among its like; left out, they stand by their names. */
export type RankedHit = Omit<SearchHit, 'exact' | 'successor' | 'lastMoved'> & {
  rank: Rank;
  order?: string;
  successor?: SearchHit['successor'];
};

/** Finds at most so many, the best first: by rank, then kind, then order, then id. */
export type SearchSource = (reader: Reader, question: Question, limit: number) => Promise<RankedHit[]>;

/** The one search asks every area that has something to find. */
@Injectable()
export class SearchRegistry {
  private readonly sources: SearchSource[] = [];
  private readonly meaning: SearchSource[] = [];

  register(source: SearchSource): void {
    this.sources.push(source);
  }

  /** One that heeds `meant`, and so is asked again where nothing was found. */
  registerForWords(source: SearchSource): void {
    this.register(source);
    this.meaning.push(source);
  }

  get forWords(): readonly SearchSource[] {
    return this.meaning;
  }

  get all(): readonly SearchSource[] {
    return this.sources;
  }
}
