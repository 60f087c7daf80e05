import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { LoadNames } from '../later-names.js';

/** Says whose photographs have changed: the thing's page, its load, or the job's card shows them anew. */
@Injectable()
export class PictureNews {
  constructor(private readonly loads: LoadNames) {}

  async tell(transaction: Transaction, subjectId: string, kind: string | null): Promise<void> {
    const load = await this.loads.nameOf(transaction, subjectId);
    transaction.news(kind === 'J' ? `job:${subjectId}` : `thing:${subjectId}`, ...(load === null ? [] : [`load:${load.id}`]));
  }
}
