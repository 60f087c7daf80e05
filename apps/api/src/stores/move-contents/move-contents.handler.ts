import type { ContentsMoved, MoveContents } from '@corewright/contracts/places';
import { decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { done, invariant, notFound, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { locksOf, moveAll } from '../ledger.js';
import { placeBrief } from '../place.queries.js';
import { placeForGoods } from '../place-for-goods.js';
import { codeOf, thingFacts, thingName } from '../place-words.js';

interface LyingRow extends Record<string, unknown> {
  id: string;
  code: string;
  name: string;
  quantity: string;
}

const lyingIds = 'SELECT thing_id AS id FROM balances WHERE holder_id = $1 AND quantity <> 0 ORDER BY thing_id';
const lying = `
  SELECT things.id, ${codeOf('things.id')} AS code, ${thingName} AS name, balances.quantity
    FROM balances JOIN things ON things.id = balances.thing_id ${thingFacts}
   WHERE balances.holder_id = $1 AND balances.quantity > 0 AND things.id = ANY ($2::uuid[]) ORDER BY things.id`;

/**
 * Everything that lies in one place goes to another: a movement for each thing, all of them one act. What comes into the place meanwhile
 * stays there, and so does what nobody finds.
 */
@Injectable()
export class MoveContentsHandler {
  async handle(transaction: Transaction, input: MoveContents): Promise<Result<ContentsMoved>> {
    const [from, to, ids] = await Promise.all([
      placeBrief(transaction, input.fromPlaceId),
      placeForGoods(transaction, input.toPlaceId, 'toPlaceId'),
      transaction.rows<{ id: string }>(lyingIds, [input.fromPlaceId]),
    ]);
    if (from === null) return refused(notFound('The place to be emptied'));
    if (!to.ok) return to;
    if (from.id === to.value.id) return refused(samePlace(from.path));
    if (from.kind === 'tray') return refused(claimedInTray(from.path));
    const things = ids.map(({ id }) => id);
    const [locked, rows] = await Promise.all([
      locksOf(transaction, things),
      transaction.rows<LyingRow>(lying, [from.id, things]),
    ]);
    const missing = new Set(locked.filter(({ missingSince }) => missingSince !== null).map(({ id }) => id));
    const going = rows.filter(({ id }) => !missing.has(id));
    const stayed = rows
      .filter(({ id }) => missing.has(id))
      .map(({ id, code, name }) => ({ id, code, name, why: 'it was looked for and not found' }));
    if (going.length === 0) return refused(nothingThere(from.path, stayed.length));
    const steps = going.map(({ id, quantity }) => ({
      thingId: id,
      quantity: formatDecimal(decimalFrom(quantity)),
      fromHolderId: from.id,
      toHolderId: to.value.id,
    }));
    const [actId] = moveAll(transaction, steps, { reason: 'moved together', occurredAt: input.occurredAt });
    invariant(actId, 'something was moved');
    transaction.news('today');
    const target = await placeBrief(transaction, to.value.id);
    invariant(target, 'a place stays in the books');
    return done({
      actId,
      act: 'moved together',
      from: { id: from.id, code: from.code, name: from.path },
      to: { id: target.id, code: target.code, name: target.path },
      moved: going.length,
      stayed,
      words: `${sayThings(going.length)} out of ${from.path}: now in ${target.path}.${sayStayed(stayed.length)}`,
    });
  }
}

function sayThings(count: number): string {
  return count === 1 ? '1 thing' : `${count} things`;
}

function sayStayed(count: number): string {
  if (count === 0) return '';
  return ` ${sayThings(count)} that nobody found there ${count === 1 ? 'stays' : 'stay'} marked as missing.`;
}

function samePlace(path: string): Refusal {
  return {
    status: 409,
    code: 'same-place',
    title: 'It is the same place',
    detail: `Everything lies in ${path} already. Scan the place to go to first, then the one that is emptied. Nothing was changed.`,
  };
}

function claimedInTray(path: string): Refusal {
  return {
    status: 409,
    code: 'tray-of-a-job',
    title: 'A job’s tray',
    detail: `What lies in ${path} was picked, and is claimed by its job. Take the picks back on the bench, and it lies in stores again; or carry the tray itself. Nothing was changed.`,
  };
}

function nothingThere(path: string, missing: number): Refusal {
  return {
    status: 409,
    code: 'nothing-to-move',
    title: 'Nothing to move',
    detail:
      missing === 0
        ? `By the books nothing lies in ${path}. Scan what is in it thing by thing; each then says where the books have it. Nothing was changed.`
        : `All that the books have in ${path} was looked for and not found. Whoever has it in a hand scans it by itself: that finds it. Nothing was changed.`,
  };
}
