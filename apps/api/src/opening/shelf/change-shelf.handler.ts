import type { OpeningShelf, ShelfDone } from '@corewright/contracts/opening-stock';
import type { AddPlace } from '@corewright/contracts/stores';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { AddPlaceHandler } from '../../stores/add-place/add-place.handler.js';
import { placeForGoods } from '../../stores/place-for-goods.js';
import { shelfPage } from '../opening-row.queries.js';
import { stopped } from '../row-state.js';
import { lockShelves, shelfOf, writeActs } from './shelf-acts.js';

const insideOf = `
  WITH RECURSIVE down AS (
    SELECT holder_id, kind FROM places WHERE holder_id = $1
    UNION ALL SELECT places.holder_id, places.kind FROM places JOIN down ON places.parent_id = down.holder_id)
  SELECT holder_id AS id FROM down WHERE kind <> 'tray' ORDER BY holder_id`;

/** A place is opened, done, or opened again. */
@Injectable()
export class ChangeShelfHandler {
  constructor(private readonly addPlace: AddPlaceHandler) {}

  /** A place that is in no book yet, opened on the spot. */
  async add(transaction: Transaction, input: z.infer<typeof AddPlace>): Promise<Result<OpeningShelf>> {
    if (input.kind === 'tray')
      return refused(stopped('not-a-shelf', 'A job’s tray', 'A tray comes with its job. Key a rack, a bin or an area.'));
    const added = await this.addPlace.handle(transaction, input);
    if (!added.ok) return added;
    // a rack is opened shelf by shelf, unless it has none
    if (input.kind !== 'rack' && input.kind !== 'site') await writeActs(transaction, [input.id], 'begun');
    return answer(transaction, input.id);
  }

  /** Said of a shelf that is done already it changes nothing: two people may say it. */
  async done(transaction: Transaction, placeId: string, { inside, why }: ShelfDone): Promise<Result<OpeningShelf>> {
    const place = await placeForGoods(transaction, placeId);
    if (!place.ok) return place;
    const ids = inside ? (await transaction.rows<{ id: string }>(insideOf, [placeId])).map(({ id }) => id) : [placeId];
    await lockShelves(transaction, ids);
    const open: string[] = [];
    for (const id of ids) if ((await shelfOf(transaction, id)).state !== 'done') open.push(id);
    if (open.length > 0) await writeActs(transaction, open, 'done', why);
    return answer(transaction, placeId);
  }

  async open(transaction: Transaction, placeId: string): Promise<Result<OpeningShelf>> {
    const place = await placeForGoods(transaction, placeId);
    if (!place.ok) return place;
    await lockShelves(transaction, [placeId]);
    const { state } = await shelfOf(transaction, placeId);
    if (state !== 'begun') await writeActs(transaction, [placeId], state === 'done' ? 'opened again' : 'begun');
    return answer(transaction, placeId);
  }
}

async function answer(transaction: Transaction, placeId: string): Promise<Result<OpeningShelf>> {
  const page = await shelfPage(transaction, placeId);
  if (page === null) return refused(notFound('That place'));
  invariant(page.place.kind !== 'tray', 'a tray is never opened');
  return done(page);
}
