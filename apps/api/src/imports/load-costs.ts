import type { SharingWay } from '@corewright/contracts/costs';
import { parseMoney } from '@corewright/quantities/money';
import { oursOf } from '../people/workshop.js';
import type { Books } from './books.js';
import type { Row } from './row.js';

interface LoadToShare {
  row: Row;
  way: SharingWay;
}

/** The loads of this import whose cost is to be shared at its end, by their ids. */
export function loadsToShare(books: Books): Promise<Map<string, LoadToShare>> {
  return books.register('loads to share', async () => new Map());
}

/** Shares them, when everything that came with the loads was read. */
export async function shareLoads(books: Books): Promise<void> {
  for (const [loadId, { row, way }] of await loadsToShare(books)) {
    const shared = await books.handlers.costs.handle(books.transaction, loadId, { way, shares: [], why: '' });
    if (!shared.ok) row.refused('shared_by', shared.error);
  }
}

/** The workshop's own currency. */
export async function oursIn(books: Books): Promise<string> {
  const ours = await books.once('currency', 'ours', () => oursOf(books.transaction));
  return ours ?? '';
}

/** What all of a row is thought to be worth, in smallest units of our currency; null where the cell is empty. */
export async function worthIn(row: Row, books: Books): Promise<string | null> {
  const text = row.text('worth', 40);
  if (text === '') return null;
  if (row.cell('load') === '')
    return row.fault('worth', 'Only what came with a load bears a share of a cost. Name the load, or leave this empty.');
  const amount = parseMoney(text, await oursIn(books));
  return amount.ok ? amount.value.toString() : row.fault('worth', amount.error.sentence);
}
