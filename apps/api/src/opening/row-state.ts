import type { CostStanding, OpeningStanding } from '@corewright/contracts/opening-stock';
import { type Decimal, decimalFrom, sumDecimals } from '@corewright/quantities/decimal';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import { done, invariant, notFound, type Refusal, type Result, refused } from '../platform/refusal.js';
import { type Balance, type LockedThing, lockOf, whereIs } from '../stores/ledger.js';

export interface KeptOpeningRow {
  id: string;
  placeId: string;
  jobId: string | null;
  quantity: string;
  standing: OpeningStanding;
  costStanding: CostStanding;
  /** minor units of the workshop's currency; null where nobody has said */
  costMinor: string | null;
  version: number;
}

/** A row with its thing locked, as the books have it now. */
export interface OpeningRowState extends KeptOpeningRow {
  thing: LockedThing;
  /** how many lie in the place where they were keyed */
  here: Decimal;
  /** where the rest is: moved, picked, fitted, sold, scrapped */
  elsewhere: Balance[];
}

const selectRow = `
  SELECT thing_id AS id, place_id AS "placeId", job_id AS "jobId", trim_scale(quantity)::text AS quantity, standing,
         cost_standing AS "costStanding", cost_minor::text AS "costMinor", version
    FROM opening_rows WHERE thing_id = $1`;

/** Locks the thing of a row and reads the row under it; null where there is none. */
export async function lockOpeningRow(transaction: Transaction, rowId: string): Promise<OpeningRowState | null> {
  const [thing, row, balances] = await Promise.all([
    lockOf(transaction, rowId),
    transaction.row<KeptOpeningRow & Record<string, unknown>>(selectRow, [rowId]),
    whereIs(transaction, rowId),
  ]);
  if (row === null) return null;
  invariant(thing, 'a row of opening stock has its thing');
  const ofIt = balances.filter(({ kind, quantity }) => kind !== 'count-difference' && decimalFrom(quantity) > 0n);
  return {
    ...row,
    thing,
    here: sumDecimals(ofIt.filter(({ holderId }) => holderId === row.placeId).map(({ quantity }) => decimalFrom(quantity))),
    elsewhere: ofIt.filter(({ holderId }) => holderId !== row.placeId),
  };
}

/** Why nothing more is done with a row at all; null where it stands. */
export function whyClosed({ standing }: Pick<KeptOpeningRow, 'standing'>): Refusal | null {
  if (standing === 'struck out')
    return stopped('struck-out', 'Struck out', 'This row was struck out and stays so. Key a new row for what is there.');
  if (standing === 'scrapped')
    return stopped('scrapped', 'To scrap already', 'Somebody has sent this to scrap. Key a new row where it is here after all.');
  return null;
}

export function stopped(code: string, title: string, words: string): Refusal {
  return { status: 409, code, title, detail: `${words} Nothing was changed.` };
}

/** A row that may still be worked on, locked. */
export async function openRow(transaction: Transaction, rowId: string): Promise<Result<OpeningRowState>> {
  const state = await lockOpeningRow(transaction, rowId);
  if (state === null) return refused(notFound('That row'));
  const closed = whyClosed(state);
  return closed === null ? done(state) : refused(closed);
}
