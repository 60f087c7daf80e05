import type { PictureShows } from '@corewright/contracts/pictures';
import { Injectable } from '@nestjs/common';
import type { Reader } from '../../platform/database/database.js';
import { LaterNames, LoadNames } from '../later-names.js';

/** What can be photographed: what a photograph of it shows, and whose screens show it anew. */
export interface PictureSubject {
  shows: PictureShows;
  news: readonly string[];
}

/** What bears a code can be photographed; the letter of the code says what it is. */
const selectKind = 'SELECT kind FROM codes WHERE subject_id = $1 LIMIT 1';

/** Areas that come later register what else can be, by its id. */
@Injectable()
export class PictureSubjects extends LaterNames<PictureSubject> {
  constructor(private readonly loads: LoadNames) {
    super();
  }

  /** Null for what is not in the books. */
  async find(reader: Reader, id: string): Promise<PictureSubject | null> {
    const coded = await reader.row<{ kind: string }>(selectKind, [id]);
    if (coded === null) return this.nameOf(reader, id);
    if (coded.kind === 'J') return { shows: 'job', news: [`job:${id}`] };
    const load = await this.loads.nameOf(reader, id);
    return {
      shows: coded.kind === 'P' ? 'place' : 'thing',
      news: [`thing:${id}`, ...(load === null ? [] : [`load:${load.id}`])],
    };
  }
}
