import type { SettleWarning, Warning } from '@corewright/contracts/warnings';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { warningOf } from '../warning.queries.js';

const lockWarning = 'SELECT settled_at AS "settledAt" FROM warnings WHERE id = $1 FOR UPDATE';
const settle = `
  UPDATE warnings SET settled_at = clock_timestamp(), settled_by = $2, settled_note = $3, settling_key = $4 WHERE id = $1`;

/** Somebody has seen to it and says how. What was settled before, by itself or by another, stays as it was settled. */
@Injectable()
export class SettleWarningHandler {
  async handle(transaction: Transaction, id: string, { note }: SettleWarning): Promise<Result<Warning>> {
    const locked = await transaction.row<{ settledAt: string | null }>(lockWarning, [id]);
    if (locked === null) return refused(notFound('That warning'));
    const { person, key } = transaction.command;
    if (locked.settledAt === null) await transaction.rows(settle, [id, person.id, note, key]);
    const warning = await warningOf(transaction, id);
    invariant(warning, 'a locked warning is in the books');
    transaction.news(
      'warnings',
      'today',
      ...[warning.job, warning.otherJob].flatMap((job) => (job === null ? [] : [`job:${job.id}`])),
    );
    return done(warning);
  }
}
