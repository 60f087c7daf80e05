import type { ContainerFound, EndContainer } from '@corewright/contracts/consumables';
import { decimalFrom, zero } from '@corewright/quantities/decimal';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { done, notFound, type Result, refused } from '../../platform/refusal.js';
import { lockOf, move, scrapId, usedUpId, whereIs } from '../../stores/ledger.js';
import { placeForGoods } from '../../stores/place-for-goods.js';
import type { ConsumableRow } from '../consumable.queries.js';
import { insertEvent, lockConsumableOfLot } from './open-container.js';

const isOpen = 'SELECT 1 AS open FROM open_containers WHERE thing_id = $1';
const lastEnd = `
  SELECT kind FROM container_events WHERE thing_id = $1 ORDER BY sequence DESC LIMIT 1`;

/** An open container is empty, or is thrown away: it leaves the stores for good, unless somebody finds it again. */
export async function endContainer(
  transaction: Transaction,
  thingId: string,
  { how, words }: EndContainer,
): Promise<Result<{ id: string }>> {
  const locked = await lockOpen(transaction, thingId);
  if (!locked.ok) return locked;
  const { consumable, thing } = locked.value;
  if (decimalFrom(thing.claimed) > zero)
    return stopped('in-use', 'Reserved for a job', 'It is reserved for a job. Release it first: the claim stands on its page.');
  const held = (await whereIs(transaction, thingId)).filter(({ counts }) => counts);
  const reason = how === 'empty' ? 'used up' : `thrown away${words === '' ? '' : `: ${words}`}`;
  const toHolderId = how === 'empty' ? usedUpId : scrapId;
  // Posted away as lost it may be in no place any more: then nothing moves, and it is open no longer.
  const [movementId] = held.map(({ holderId, quantity }) =>
    move(transaction, { thingId, quantity, fromHolderId: holderId, toHolderId, reason }),
  );
  await writeEvent(transaction, consumable, thingId, { kind: how, movementId: movementId ?? null, words });
  return done({ id: thingId });
}

/** It was never opened: somebody pressed the wrong one. It is full again, as the lot that it became. */
export async function notOpenedAfterAll(transaction: Transaction, thingId: string, why: string): Promise<Result<{ id: string }>> {
  const locked = await lockOpen(transaction, thingId);
  if (!locked.ok) return locked;
  const used = await transaction.row(standingUse, [thingId]);
  if (used !== null)
    return stopped(
      'was-used',
      'It was used on a job',
      'Uses of it are charged to jobs, so it was opened. Put these right on their jobs first.',
    );
  await writeEvent(transaction, locked.value.consumable, thingId, { kind: 'not opened after all', movementId: null, words: why });
  return done({ id: thingId });
}

const standingUse = `
  SELECT 1 AS used FROM consumable_uses AS used WHERE thing_id = $1
     AND NOT EXISTS (SELECT FROM consumable_uses AS later WHERE later.puts_right_id = used.id) LIMIT 1`;

/** What was said to be empty or thrown away is found, with something left in it: it comes back from there and is open as it was. */
export async function foundContainer(
  transaction: Transaction,
  thingId: string,
  { placeId, words }: ContainerFound,
): Promise<Result<{ id: string }>> {
  const consumable = await lockConsumableOfLot(transaction, thingId);
  if (!consumable.ok) return consumable;
  const [thing, balances, last, others] = await Promise.all([
    lockOf(transaction, thingId),
    whereIs(transaction, thingId),
    transaction.row<{ kind: string }>(lastEnd, [thingId]),
    transaction.rows('SELECT thing_id FROM open_containers WHERE part_id = $1', [consumable.value.partId]),
  ]);
  const gone = balances.find(({ holderId }) => holderId === usedUpId || holderId === scrapId);
  if (thing === null || gone === undefined || (last?.kind !== 'empty' && last?.kind !== 'thrown away'))
    return stopped('not-gone', 'It is not gone', 'By the books it was neither emptied nor thrown away.');
  if (consumable.value.oneAtATime && others.length > 0)
    return stopped(
      'one-open',
      'One is open already',
      'One container at a time is open, and another is. Use that one up first, or say that it is empty.',
    );
  const mayLie = await placeForGoods(transaction, placeId);
  if (!mayLie.ok) return mayLie;
  const movementId = move(transaction, {
    thingId,
    quantity: '1',
    fromHolderId: gone.holderId,
    toHolderId: placeId,
    reason: 'found again, with something left in it',
  });
  await writeEvent(transaction, consumable.value, thingId, { kind: 'found again', movementId, words });
  return done({ id: thingId });
}

async function lockOpen(transaction: Transaction, thingId: string) {
  const consumable = await lockConsumableOfLot(transaction, thingId);
  if (!consumable.ok) return consumable;
  const [thing, open] = await Promise.all([lockOf(transaction, thingId), transaction.row(isOpen, [thingId])]);
  if (thing === null) return refused(notFound('That lot'));
  if (open === null)
    return stopped(
      'not-open',
      'It is not open',
      'By the books this one is not open: somebody has said so meanwhile, or it was never opened.',
    );
  return done({ consumable: consumable.value, thing });
}

interface EventToWrite {
  kind: 'empty' | 'thrown away' | 'not opened after all' | 'found again';
  movementId: string | null;
  words: string;
}

async function writeEvent(
  transaction: Transaction,
  { partId }: ConsumableRow,
  thingId: string,
  event: EventToWrite,
): Promise<void> {
  const { key, person } = transaction.command;
  await transaction.rows(insertEvent, [
    newId(),
    key,
    thingId,
    partId,
    event.kind,
    null,
    event.movementId,
    event.words,
    person.id,
  ]);
  transaction.news(`thing:${thingId}`, 'stores', 'today', `part:${partId}`);
}

function stopped(code: string, title: string, words: string) {
  return refused({ status: 409, code, title, detail: `${words} Nothing was changed.` });
}
