import { countDifferenceId, holderOf, move } from '../stores/ledger.js';
import type { Books } from './books.js';
import { referredIn } from './lookups.js';
import type { Row } from './row.js';

export interface KnownLoad {
  id: string;
  sellerId: string;
  boughtOn: string;
}

export interface Arriving {
  thingId: string;
  quantity: string;
  load: KnownLoad | null;
  ownerId: string | null;
  placeId: string;
  /** of what came with a load: what all of it is thought to be worth; null is not known */
  worth: string | null;
}

const selectLoad = 'SELECT id, seller_id AS "sellerId", bought_on AS "boughtOn" FROM loads WHERE id = $1';
const insertLoadRow = `
  INSERT INTO load_rows (thing_id, load_id, worth_minor, position)
  SELECT $1, $2, $3::bigint, coalesce(max(position), 0) + 1 FROM load_rows WHERE load_id = $2`;

/** The load that a cell names; undefined, with a fault, where there is none of that reference, null where the cell is empty. */
export async function loadIn(row: Row, books: Books): Promise<KnownLoad | null | undefined> {
  if (row.cell('load') === '') return null;
  const id = await referredIn(row, 'load', books, 'loads', 'The load');
  if (id === null) return undefined;
  const load = await books.once('loads', id, () => books.transaction.row<KnownLoad & Record<string, unknown>>(selectLoad, [id]));
  return load ?? undefined;
}

/**
 * Books a thing in: what came with a load from its seller on the day it was bought, a customer's own goods from the customer,
 * all else as opening stock from the count.
 */
export async function arrive(books: Books, { thingId, quantity, load, ownerId, placeId, worth }: Arriving): Promise<void> {
  const { transaction } = books;
  const step = { thingId, quantity, toHolderId: placeId };
  if (load) {
    await transaction.rows(insertLoadRow, [thingId, load.id, worth]);
    const fromHolderId = holderOf(transaction, load.sellerId, 'supplier');
    // Noon: nobody knows the hour, and at noon it is the same day in nearly every time zone.
    move(transaction, { ...step, fromHolderId, reason: 'came with its load', occurredAt: `${load.boughtOn}T12:00:00Z` });
  } else if (ownerId) {
    const fromHolderId = holderOf(transaction, ownerId, 'customer');
    move(transaction, { ...step, fromHolderId, reason: 'handed in by its owner' });
  } else move(transaction, { ...step, fromHolderId: countDifferenceId, reason: 'opening stock' });
}
