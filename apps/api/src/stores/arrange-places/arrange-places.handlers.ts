import type { CarryPlace, EditPlace, PlaceCarried, PlacePage } from '@corewright/contracts/places';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, invariant, type Result, refused } from '../../platform/refusal.js';
import { goodsInPlace } from '../goods-in-place.js';
import { placeBrief } from '../place.queries.js';
import { placePage } from '../place-page.queries.js';
import { type Around, type Emptiness, whyNotCarried, whyNotClosed, whyNotEdited, whyNotIn } from './decide-place.js';
import { aroundOf, isNameTaken, lockPlace, placesInside } from './place-under-change.js';

const rewrite = 'UPDATE places SET name = $2, kind = $3, nicknames = $4, version = version + 1 WHERE holder_id = $1';
const carry = 'UPDATE places SET parent_id = $2, version = version + 1 WHERE holder_id = $1';
const close = 'UPDATE places SET closed_at = clock_timestamp(), closed_by = $2, version = version + 1 WHERE holder_id = $1';
const open = 'UPDATE places SET closed_at = NULL, closed_by = NULL, version = version + 1 WHERE holder_id = $1';
const countInside = `
  SELECT (SELECT count(*)::integer FROM balances WHERE holder_id = $1 AND quantity <> 0) AS things,
         (SELECT count(*)::integer FROM places WHERE parent_id = $1 AND closed_at IS NULL) AS places`;

/** What a place is called, and what it is. The way to all that stands in it changes with it; its code stays. */
@Injectable()
export class EditPlaceHandler {
  async handle(transaction: Transaction, placeId: string, { name, kind, nicknames }: EditPlace): Promise<Result<PlacePage>> {
    const locked = await lockPlace(transaction, placeId);
    if (!locked.ok) return locked;
    const { parentId } = locked.value;
    const [around, inside, nameTaken] = await Promise.all([
      parentId === null ? null : aroundOf(transaction, parentId, placeId),
      placesInside(transaction, placeId),
      isNameTaken(transaction, parentId, name, placeId),
    ]);
    const barred = whyNotEdited(locked.value, { name, kind }, { around, inside, isNameTaken: nameTaken });
    if (barred !== null) return refused(barred);
    await transaction.rows(rewrite, [placeId, name, kind, nicknames]);
    return pageAfter(transaction, placeId);
  }
}

/** A place is carried elsewhere, and all that lies and stands in it goes along: it still lies in it, so nothing of it moves. */
@Injectable()
export class CarryPlaceHandler {
  async handle(transaction: Transaction, placeId: string, { parentId }: CarryPlace): Promise<Result<PlaceCarried>> {
    const locked = await lockPlace(transaction, placeId, { isFact: true });
    if (!locked.ok) return locked;
    const place = locked.value;
    const [around, before, nameTaken] = await Promise.all([
      parentId === null ? null : aroundOf(transaction, parentId, placeId),
      place.parentId === null ? null : placeBrief(transaction, place.parentId),
      isNameTaken(transaction, parentId, place.name, placeId),
    ]);
    if (parentId !== null && around === null)
      return refused(badInput('parentId', 'That place is not in the books. Choose one from the list.'));
    const barred = whyNotCarried(place, around, nameTaken);
    if (barred !== null) return refused(barred);
    await transaction.rows(carry, [placeId, parentId]);
    transaction.news('stores', 'today');
    const after = await placeBrief(transaction, placeId);
    invariant(after, 'a place stays in the books');
    return done({
      act: 'carried',
      place: after,
      before: before === null ? null : { id: before.id, path: before.path },
      words: `${place.name} is now ${around === null ? 'in no other place' : `in ${around.path}`}, with all that lies in it. It stood ${before === null ? 'by itself' : `in ${before.path}`}.`,
    });
  }
}

/** An empty place takes no more goods. Its code, its history and what stands in the books of it stay. */
@Injectable()
export class ClosePlaceHandler {
  /** @param isFact a file says so of a place that it brings in, of which nobody has seen a version */
  async close(transaction: Transaction, placeId: string, { isFact = false } = {}): Promise<Result<PlacePage>> {
    const locked = await lockPlace(transaction, placeId, { isFact });
    if (!locked.ok) return locked;
    const [counted, goodsIn] = await Promise.all([
      transaction.row<Omit<Emptiness, 'isGoodsIn'> & Record<string, unknown>>(countInside, [placeId]),
      goodsInPlace(transaction),
    ]);
    invariant(counted, 'counting gives a row');
    const barred = whyNotClosed(locked.value, { ...counted, isGoodsIn: goodsIn === placeId });
    if (barred !== null) return refused(barred);
    await transaction.rows(close, [placeId, transaction.command.person.id]);
    return pageAfter(transaction, placeId);
  }

  async open(transaction: Transaction, placeId: string): Promise<Result<PlacePage>> {
    const locked = await lockPlace(transaction, placeId);
    if (!locked.ok) return locked;
    const { isClosed, path, parentId, kind } = locked.value;
    if (!isClosed)
      return refused({
        status: 409,
        code: 'open-already',
        title: 'It is open',
        detail: `${path} is open already, and takes goods. Nothing was changed.`,
      });
    const around: Around | null = parentId === null ? null : await aroundOf(transaction, parentId, placeId);
    const barred = whyNotIn({ kind, isClosed: false }, around);
    if (barred?.code === 'place-closed') return refused(barred);
    await transaction.rows(open, [placeId]);
    return pageAfter(transaction, placeId);
  }
}

async function pageAfter(transaction: Transaction, placeId: string): Promise<Result<PlacePage>> {
  transaction.news('stores', 'today');
  const page = await placePage(transaction, placeId);
  invariant(page, 'a place stays in the books');
  return done(page);
}
