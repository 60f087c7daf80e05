import { Injectable } from '@nestjs/common';
import type { Reader } from '../../platform/database/database.js';

export type HistorySubject = 'thing' | 'part' | 'place';

/** Where a page goes on: before this instant, to the microsecond, and at it before this entry. */
export interface HistoryPoint {
  at: string;
  id: string;
}

export interface HistoryAsked {
  /** the things, for a part its lots; or the part or the place itself */
  ids: readonly string[];
  before: HistoryPoint | null;
  limit: number;
}

/** One entry as a source gives it. */
export interface HistoryRow {
  id: string;
  /** to the microsecond, in UTC, so that it sorts as text */
  point: string;
  at: string;
  doneAt: string;
  title: string;
  detail: string;
  by: string;
  isTakenBack: boolean;
  thingId: string | null;
}

export type Entries = (reader: Reader, asked: HistoryAsked) => Promise<HistoryRow[]>;

/** What an area has on record. Each gives its newest entries, the newest first, by instant and then by id, so many at most. */
export interface HistorySource {
  /** a short word of small letters and hyphens, for the address */
  kind: string;
  /** what people choose it by: "Moves", "Labels" */
  words: string;
  /** only those who keep the books may read it */
  isForKeepers?: boolean;
  /** what is on record of things, by their ids; of a part it is asked of all its lots */
  ofThings?: Entries;
  ofPart?: Entries;
  ofPlace?: Entries;
}

/** The history of a thing, a part or a place asks every area that has something on record. Kinds stand in the order in which they were registered. */
@Injectable()
export class HistoryRegistry {
  private readonly sources: HistorySource[] = [];

  register(...sources: readonly HistorySource[]): void {
    this.sources.push(...sources);
  }

  of(subject: HistorySubject): readonly HistorySource[] {
    return this.sources.filter((source) => entriesFor(source, subject).length > 0);
  }
}

/** Which of the source's ways answers about such a subject, each with whose ids it is asked by. */
export function entriesFor(source: HistorySource, subject: HistorySubject): { by: 'things' | 'itself'; entries: Entries }[] {
  const own = subject === 'part' ? source.ofPart : subject === 'place' ? source.ofPlace : undefined;
  const ofThings = subject === 'place' ? undefined : source.ofThings;
  return [
    ...(ofThings === undefined ? [] : [{ by: 'things' as const, entries: ofThings }]),
    ...(own === undefined ? [] : [{ by: 'itself' as const, entries: own }]),
  ];
}

/** SQL: an instant to the microsecond, as text that sorts. */
export const pointOf = (at: string): string => `to_char(${at} AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"')`;

/**
 * SQL: an id of the entry's own, where one row gives several entries, or one to each of several things: of entries of one instant no two may have the same id, or a
 * page that ends between them loses one.
 * @param parts columns, and words in quotation marks
 */
export const entryId = (...parts: readonly string[]): string =>
  `overlay(overlay(md5(concat_ws(' ', ${parts.join(', ')})) PLACING '8' FROM 13) PLACING '8' FROM 17)::uuid`;

/** SQL: a quantity as it is read. */
export const amountOf = (quantity: string): string => `trim_scale(${quantity})::text`;

/**
 * Entries by one statement.
 * @param text a constant SELECT of `id`, `at` (when it was recorded), `title`, `detail`, `person_id` and `thing_id` (null where none is meant) for the ids `ANY ($1::uuid[])`;
 * order, page and the person's name are added here
 */
export function entriesBy(text: string): Entries {
  const page = `
    SELECT each.id, ${pointOf('at')} AS point, at, at AS "doneAt", title, detail, coalesce(people.display_name, '') AS by, false AS "isTakenBack", thing_id AS "thingId"
      FROM (${text}) AS each LEFT JOIN people ON people.id = each.person_id
     WHERE $2::timestamptz IS NULL OR (at, each.id) < ($2::timestamptz, $3::uuid)
     ORDER BY at DESC, each.id DESC LIMIT $4`;
  return (reader, { ids, before, limit }) =>
    reader.rows<HistoryRow & Record<string, unknown>>(page, [ids, before?.at ?? null, before?.id ?? null, limit]);
}
