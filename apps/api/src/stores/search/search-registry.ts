import type { SearchHit } from '@corewright/contracts/stores';
import { Injectable } from '@nestjs/common';
import type { Rank } from '../../catalogue/search/rank.js';
import type { Reader } from '../../platform/database/database.js';

/** What was keyed, read in the ways in which it may be meant. */
export interface Question {
  text: string;
  /** each word as a pattern; all of them must be found */
  patterns: readonly string[];
  /** the same as the indexes know them */
  words: readonly string[];
  /** the words as a query of the database: as they were keyed or, where nothing was found by these, as what each can have been meant for; null where they say nothing */
  sought: string | null;
  /** whether nothing was found by what was keyed, so that what is near it is asked for */
  isNear: boolean;
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
  /** left out, it is looked up where the hit is a thing that is shown */
  lastMoved?: SearchHit['lastMoved'];
};

/** Finds at most so many, the best first: by rank, then kind, then order, then id. */
export type SearchSource = (reader: Reader, question: Question, limit: number) => Promise<RankedHit[]>;

/** The one search asks every area that has something to find. */
@Injectable()
export class SearchRegistry {
  private readonly sources: SearchSource[] = [];
  private readonly near: SearchSource[] = [];

  register(source: SearchSource): void {
    this.sources.push(source);
  }

  /** One that heeds `isNear`, and so is asked again where nothing was found. */
  registerForNear(source: SearchSource): void {
    this.register(source);
    this.near.push(source);
  }

  get forNear(): readonly SearchSource[] {
    return this.near;
  }

  get all(): readonly SearchSource[] {
    return this.sources;
  }
}
