import type { AddPlace, PlaceBrief } from '@corewright/contracts/stores';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, invariant, type Result, refused } from '../../platform/refusal.js';
import { giveCode } from '../../scanning/code-register.js';
import { aroundOf } from '../arrange-places/place-under-change.js';
import { holderOf } from '../ledger.js';
import { placeBrief } from '../place.queries.js';

const holderIsThere = 'SELECT 1 AS there FROM holders WHERE id = $1';
const namesake = `
  SELECT 1 AS there FROM places WHERE parent_id IS NOT DISTINCT FROM $1::uuid AND lower(name) = lower($2)`;
const insert = 'INSERT INTO places (holder_id, parent_id, name, kind, nicknames) VALUES ($1, $2, $3, $4, $5)';

/** A new place, with its code; two places in one may not have one name. */
@Injectable()
export class AddPlaceHandler {
  async handle(transaction: Transaction, input: z.infer<typeof AddPlace>): Promise<Result<PlaceBrief>> {
    const { id, parentId, name, kind, nicknames } = input;
    if (await transaction.row(holderIsThere, [id]))
      return refused(badInput('id', 'A place with this id is in the books already.'));
    const around = parentId === null ? null : await aroundOf(transaction, parentId, id);
    if (parentId !== null && around === null)
      return refused(badInput('parentId', 'The place that it is to be in is not in the books. Choose one from the list.'));
    if (around?.isClosed === true)
      return refused(badInput('parentId', `${around.path} is closed, and nothing stands in a closed place. Choose another.`));
    if (await transaction.row(namesake, [parentId, name]))
      return refused(badInput('name', `There is a “${name}” there already. Give this one another name.`));
    holderOf(transaction, id, kind === 'tray' ? 'tray' : 'place');
    await transaction.rows(insert, [id, parentId, name, kind, nicknames]);
    await giveCode(transaction, 'P', id);
    transaction.news('stores');
    const place = await placeBrief(transaction, id);
    invariant(place, 'a place that was just made is there');
    return done(place);
  }
}
