import type { DeskRow } from '@corewright/contracts/opening-stock';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../../platform/commands/version-seen.js';
import { changedMeanwhile, done, invariant, type Result, refused } from '../../platform/refusal.js';
import { tellOthers } from '../../stores/tell-others.js';
import { type OpeningRowState, openRow } from '../row-state.js';
import { leave, whyWithAnother } from './desk-claims.js';
import { deskRow } from './desk-row.queries.js';

/** A row that this person may work on: it stands as they saw it, and nobody else has it in hand. */
export async function atDesk(transaction: Transaction, rowId: string): Promise<Result<OpeningRowState>> {
  const state = await openRow(transaction, rowId);
  if (!state.ok) return state;
  const other = await whyWithAnother(transaction, rowId);
  if (other !== null) return refused(other);
  const late = whyNotCurrent(transaction.command, state.value);
  if (late === null) return state;
  return refused(late.code === 'changed-meanwhile' ? changedMeanwhile(await deskRow(transaction, rowId)) : late);
}

/** The row as it stands when the desk is through with it. */
export async function finished(transaction: Transaction, rowId: string): Promise<Result<DeskRow>> {
  await leave(transaction, rowId);
  await tellOthers(transaction, rowId);
  const row = await deskRow(transaction, rowId);
  invariant(row, 'a locked row is there');
  return done(row);
}
