import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { done, notFound, type Result, refused } from '../../platform/refusal.js';

const lockFlag = `
  SELECT thing_id AS "thingId", kind, settled_at AS "settledAt" FROM stores_flags WHERE id = $1 FOR UPDATE`;
const settle = `
  UPDATE stores_flags SET settled_at = clock_timestamp(), settled_by = $2,
         words = CASE WHEN $3::text = '' THEN words ELSE words || ' Settled: ' || $3::text END
   WHERE id = $1`;
const noLongerMissing = `
  UPDATE things SET missing_since = NULL, version = version + 1
   WHERE id = $1 AND missing_since IS NOT NULL
     AND NOT EXISTS (SELECT 1 FROM stores_flags WHERE thing_id = $1 AND kind = 'not there' AND settled_at IS NULL)`;

/** Stores has looked: the flag is off the list of today. What was settled before stays as it was settled. */
@Injectable()
export class SettleFlagHandler {
  async handle(transaction: Transaction, flagId: string, words: string): Promise<Result<{ done: true }>> {
    const flag = await transaction.row<{ thingId: string; kind: string; settledAt: string | null }>(lockFlag, [flagId]);
    if (flag === null) return refused(notFound('That flag'));
    if (flag.settledAt !== null) return done({ done: true });
    await transaction.rows(settle, [flagId, transaction.command.person.id, words]);
    if (flag.kind === 'not there') await transaction.rows(noLongerMissing, [flag.thingId]);
    transaction.news('today', 'stores', `thing:${flag.thingId}`);
    return done({ done: true });
  }
}
