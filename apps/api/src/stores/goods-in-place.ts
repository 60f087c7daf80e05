import type { Transaction } from '../platform/commands/unit-of-work.js';
import type { Reader } from '../platform/database/database.js';
import { newId } from '../platform/new-id.js';
import { giveCode } from '../scanning/code-register.js';
import { holderOf } from './ledger.js';

/** Where things stand that have come in and have no place yet. The workshop may have made it itself; it is known by its name. */
const name = 'Goods-in';

/** SQL: whether a row of `places` is that place. */
export const isGoodsIn = `(places.parent_id IS NULL AND lower(places.name) = lower('${name}'))`;
const select = `SELECT holder_id AS id FROM places WHERE ${isGoodsIn}`;
const insert = `INSERT INTO places (holder_id, name, kind) VALUES ($1, '${name}', 'area')`;
const waitForOthers = `SELECT pg_advisory_xact_lock(hashtext('corewright goods-in place'))`;

/** Null before anything came in without a place. */
export async function goodsInPlace(reader: Reader): Promise<string | null> {
  return (await reader.row<{ id: string }>(select))?.id ?? null;
}

/** The same, made where it is missing. */
export async function ensureGoodsInPlace(transaction: Transaction): Promise<string> {
  const before = await goodsInPlace(transaction);
  if (before !== null) return before;
  await transaction.rows(waitForOthers);
  const meanwhile = await goodsInPlace(transaction);
  if (meanwhile !== null) return meanwhile;
  const id = newId();
  holderOf(transaction, id, 'place');
  await transaction.rows(insert, [id]);
  await giveCode(transaction, 'P', id);
  return id;
}
