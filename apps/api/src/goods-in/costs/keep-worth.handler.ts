import type { KeepRowWorth, LoadCost } from '@corewright/contracts/costs';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import { oursOf } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../../platform/commands/version-seen.js';
import { done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { worthKeyed } from '../../stores/costs/worth-keyed.js';
import { lockOfLoad } from '../load.queries.js';
import { keptRow, rowOfAnotherLoad } from '../row-state.js';
import { loadCostPage } from './load-cost-page.js';

const selectVersion = 'SELECT worth_version AS version FROM load_rows WHERE thing_id = $1';
const updateWorth = `
  UPDATE load_rows SET worth_minor = $2, weight_kg = $3, worth_version = worth_version + 1 WHERE thing_id = $1`;

/** Keeps what a row is thought to be worth and what it weighs. It has a version of its own: the row is keyed elsewhere meanwhile. */
@Injectable()
export class KeepWorthHandler {
  async handle(
    transaction: Transaction,
    loadId: string,
    rowId: string,
    input: z.infer<typeof KeepRowWorth>,
  ): Promise<Result<LoadCost>> {
    if ((await lockOfLoad(transaction, loadId)) === null) return refused(notFound('That load'));
    const row = await keptRow(transaction, rowId);
    if (row === null) return refused(notFound('That row'));
    if (row.loadId !== loadId) return refused(rowOfAnotherLoad);
    const current = await transaction.row<{ version: number }>(selectVersion, [rowId]);
    invariant(current, 'a row that was found is there');
    const late = whyNotCurrent(transaction.command, current);
    if (late !== null) return refused(late);
    const keyed = worthKeyed(input, await oursOf(transaction));
    if (!keyed.ok) return keyed;
    await transaction.rows(updateWorth, [rowId, keyed.value.worth, keyed.value.weightKg]);
    transaction.news(`load:${loadId}`);
    const page = await loadCostPage(transaction, loadId);
    invariant(page, 'a locked load is there');
    return done(page);
  }
}
