import type { CoreReviewList, ReviewCore } from '@corewright/contracts/core-ages';
import { Injectable } from '@nestjs/common';
import { WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, notFound, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { type LockedThing, lockOf } from '../../stores/ledger.js';
import { reviewsOf } from './core-age.queries.js';

const isThere = 'SELECT 1 AS there FROM core_reviews WHERE id = $1';
const selectStage = 'SELECT stage FROM units WHERE thing_id = $1';
const insert = `
  INSERT INTO core_reviews (id, command_key, unit_id, decided, note, next_on, person_id) VALUES ($1, $2, $3, $4, $5, $6, $7)`;

/** Puts on the record that somebody looked a core through, what they decided, and when it is looked through next. */
@Injectable()
export class ReviewCoreHandler {
  constructor(private readonly clock: WorkshopClock) {}

  async handle(
    transaction: Transaction,
    unitId: string,
    { id, decided, note, nextOn }: ReviewCore,
  ): Promise<Result<CoreReviewList>> {
    const locked = await lockOf(transaction, unitId);
    const unit = await transaction.row<{ stage: string }>(selectStage, [unitId]);
    if (locked === null || unit === null) return refused(notFound('That unit'));
    const barred = whyNotReviewed(locked, unit.stage);
    if (barred !== null) return refused(barred);
    if (await transaction.row(isThere, [id])) return refused(badInput('id', 'A review with this id is in the books already.'));
    if (nextOn <= (await this.clock.today(transaction)))
      return refused(badInput('nextOn', 'That day has come already. Name a later one, on which it is looked through again.'));
    const { key, person } = transaction.command;
    await transaction.rows(insert, [id, key, unitId, decided, note, nextOn, person.id]);
    transaction.news(`thing:${unitId}`, 'stores', 'today');
    return done({ reviews: await reviewsOf(transaction, unitId) });
  }
}

/** Why nothing is decided of a unit as a core; null where it may be. */
function whyNotReviewed({ ownerId }: LockedThing, stage: string): Refusal | null {
  if (ownerId !== null)
    return refusal(
      'goods-of-a-customer',
      'Not ours',
      'This unit belongs to a customer, and what becomes of it is theirs to say.',
    );
  if (stage !== 'core')
    return refusal(
      'not-a-core',
      'No core any more',
      `By the books this unit is ${stage}. Only a core that nobody has begun on is looked through.`,
    );
  return null;
}

function refusal(code: string, title: string, detail: string): Refusal {
  return { status: 409, code, title, detail: `${detail} Nothing was changed.` };
}
