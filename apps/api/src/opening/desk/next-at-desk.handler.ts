import type { AtDesk, NextAtDesk } from '@corewright/contracts/opening-stock';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { done, type Result, refused } from '../../platform/refusal.js';
import { openRow } from '../row-state.js';
import { takeInHand, whyWithAnother } from './desk-claims.js';
import { deskRow, leftAtDesk, waits } from './desk-row.queries.js';

/** In the order in which they were keyed, on from the one before and round again; what another has in hand is passed over. */
const selectNext = `
  SELECT rows.thing_id AS id FROM opening_rows AS rows JOIN things ON things.id = rows.thing_id
   WHERE ${waits} AND rows.thing_id IS DISTINCT FROM $1::uuid
     AND NOT EXISTS (SELECT FROM opening_desk WHERE opening_desk.thing_id = rows.thing_id AND person_id <> $2 AND until > now())
   ORDER BY ((rows.keyed_at, rows.thing_id) > (SELECT keyed_at, thing_id FROM opening_rows WHERE thing_id = $1::uuid)) DESC NULLS LAST,
            rows.keyed_at, rows.thing_id
   LIMIT 1 FOR NO KEY UPDATE OF rows SKIP LOCKED`;

/** Gives the next row to whoever sits at the desk, and keeps it for them for minutes. */
@Injectable()
export class NextAtDeskHandler {
  async handle(transaction: Transaction, { after, rowId }: NextAtDesk): Promise<Result<AtDesk>> {
    const chosen = rowId ?? (await this.next(transaction, after));
    if (chosen === null) return done({ row: null, left: await leftAtDesk(transaction) });
    const state = await openRow(transaction, chosen);
    if (!state.ok) return state;
    const other = await whyWithAnother(transaction, chosen);
    if (other !== null) return refused(other);
    await takeInHand(transaction, chosen);
    return done({ row: await deskRow(transaction, chosen), left: await leftAtDesk(transaction) });
  }

  private async next(transaction: Transaction, after: string | null): Promise<string | null> {
    return (await transaction.row<{ id: string }>(selectNext, [after, transaction.command.person.id]))?.id ?? null;
  }
}
