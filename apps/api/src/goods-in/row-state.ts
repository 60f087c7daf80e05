import { type Decimal, decimalFrom, subtractDecimals, zero } from '@corewright/quantities/decimal';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import { invariant, type Refusal } from '../platform/refusal.js';
import { type LockedThing, lockOf, whereIs } from '../stores/ledger.js';
import type { LockedLoad } from './load.queries.js';
import type { Shelf } from './save-row/decide-correction.js';

/** A row of a load, its thing locked, as the books have it now. */
export interface RowState {
  id: string;
  loadId: string;
  position: number;
  version: number;
  struckOut: boolean;
  thing: LockedThing;
  /** how many came with the load */
  received: Decimal;
  shelves: Shelf[];
  /** Some of it is in a tray, in a unit, sent out or gone. */
  usedElsewhere: boolean;
}

const selectRow = `
  SELECT thing_id AS id, load_id AS "loadId", position, version, struck_out AS "struckOut" FROM load_rows WHERE thing_id = $1`;

type KeptRow = Pick<RowState, 'id' | 'loadId' | 'position' | 'version' | 'struckOut'>;

/** The row without its thing; null where there is no such row. Its load is locked before. */
export function keptRow(transaction: Transaction, rowId: string): Promise<KeptRow | null> {
  return transaction.row<KeptRow & Record<string, unknown>>(selectRow, [rowId]);
}

/** Locks the thing of a row and reads where it is. */
export async function stateOf(transaction: Transaction, row: KeptRow, load: LockedLoad): Promise<RowState> {
  const thing = await lockOf(transaction, row.id);
  invariant(thing, 'a row has its thing');
  const balances = await whereIs(transaction, row.id);
  const fromSeller = balances.find((balance) => balance.holderId === load.sellerId);
  return {
    ...row,
    thing,
    received: fromSeller === undefined ? zero : subtractDecimals(zero, decimalFrom(fromSeller.quantity)),
    shelves: balances
      .filter((balance) => balance.kind === 'place')
      .map(({ holderId, quantity }) => ({ placeId: holderId, quantity: decimalFrom(quantity) })),
    usedElsewhere: balances.some((balance) => balance.kind !== 'place' && balance.holderId !== load.sellerId),
  };
}

/** Why a row that is there may not be changed by this command; null where it may. `load` is the load of the address. */
export function whyNotChanged(row: KeptRow, load: LockedLoad, versionSeen: number | null): Refusal | 'changed-meanwhile' | null {
  if (row.loadId !== load.id) return rowOfAnotherLoad;
  if (versionSeen === null)
    return {
      status: 428,
      code: 'if-match-missing',
      title: 'Which one was seen?',
      detail:
        'This row is in the books already. A change of it needs the header If-Match with the version that was seen. Nothing was changed.',
      values: { version: row.version },
    };
  if (versionSeen !== row.version) return 'changed-meanwhile';
  if (row.struckOut)
    return {
      status: 409,
      code: 'struck-out',
      title: 'Struck out',
      detail: 'This row was struck out and stays so. Key a new row for what is there.',
    };
  return null;
}

export const rowOfAnotherLoad: Refusal = {
  status: 422,
  code: 'row-of-another-load',
  title: 'Not a row of this load',
  detail: 'This id belongs to something that came otherwise. Open the load that it came with, or key a new row.',
};
