import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { LoadNames } from '../later-names.js';
import { signKind } from './picture.queries.js';

/** Says whose photographs have changed: the thing's page, its load, the job's card, or what a type is known by shows them anew. */
@Injectable()
export class PictureNews {
  constructor(private readonly loads: LoadNames) {}

  async tell(transaction: Transaction, subjectId: string, kind: string | null): Promise<void> {
    if (kind === signKind) return transaction.news('settings', 'stores');
    const load = await this.loads.nameOf(transaction, subjectId);
    transaction.news(kind === 'J' ? `job:${subjectId}` : `thing:${subjectId}`, ...(load === null ? [] : [`load:${load.id}`]));
  }
}
