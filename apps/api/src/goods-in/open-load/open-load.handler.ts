import type { LoadBrief, OpenLoad } from '@corewright/contracts/goods-in';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import { WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, invariant, type Result, refused } from '../../platform/refusal.js';
import { sellerNamed } from '../../stores/firm.queries.js';
import { holderOf } from '../../stores/ledger.js';
import { loadById } from '../load.queries.js';

const isThere = 'SELECT 1 AS there FROM loads WHERE id = $1';
const insert = 'INSERT INTO loads (id, words, seller_id, bought_on) VALUES ($1, $2, $3, $4)';

/** Opens a load: from whom, what it was called, when it was bought. A seller that nobody knew becomes a firm. */
@Injectable()
export class OpenLoadHandler {
  constructor(private readonly clock: WorkshopClock) {}

  async handle(transaction: Transaction, input: z.infer<typeof OpenLoad>): Promise<Result<LoadBrief>> {
    const { id, words, sellerName, boughtOn } = input;
    if (boughtOn > (await this.clock.today(transaction)))
      return refused(badInput('boughtOn', 'That day is still to come. Key the day on which it was bought.'));
    if (await transaction.row(isThere, [id])) return refused(badInput('id', 'A load with this id is in the books already.'));
    const seller = await sellerNamed(transaction, sellerName);
    holderOf(transaction, seller.id, 'supplier');
    await transaction.rows(insert, [id, words, seller.id, boughtOn]);
    transaction.news('loads', `load:${id}`);
    const load = await loadById(transaction, id);
    invariant(load, 'a load that was just opened is there');
    return done(load);
  }
}
