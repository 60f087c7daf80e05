import { formatCode } from '@corewright/codes/label-code';
import type { LotRegrouped, MergeLot } from '@corewright/contracts/regrouping';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { BeginAgain } from '../../platform/database/database-failure.js';
import { done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { liveCodeOf, liveCodesOf, logLabelChange, moveCode } from '../../scanning/label-changes.js';
import { logClaimChange } from '../claim-changes.js';
import { claimLess, claimOn, claimsOn, type LockedThing, locksOf, whereIs } from '../ledger.js';
import { tellOthers } from '../tell-others.js';
import { thingRow } from '../thing.queries.js';
import { decideMerge } from './decide-merge.js';
import { lotToMerge } from './lot-to-merge.js';
import { passOver } from './pass-over.js';

const selectMerged = 'SELECT merged_into_id AS id FROM things WHERE id = $1';
const markMerged = 'UPDATE things SET merged_into_id = $2, version = version + 1 WHERE id = $1';
const moveFlags = 'UPDATE stores_flags SET thing_id = $2 WHERE thing_id = $1 AND settled_at IS NULL';
// What was noted of the one holds for the goods that go over.
const addNote = `
  UPDATE lots SET note = left(concat_ws(' ', nullif(lots.note, ''), nullif(goes.note, '')), 4000)
    FROM lots AS goes WHERE lots.thing_id = $2 AND goes.thing_id = $1 AND goes.note <> lots.note`;

/** Two bags turn out to be one: a lot becomes part of another that is the same in all that the books say. */
@Injectable()
export class MergeLotHandler {
  async handle(transaction: Transaction, goesId: string, { into, why }: MergeLot): Promise<Result<LotRegrouped>> {
    const seen = await liveCodeOf(transaction, into, ['L']);
    if (!seen.ok) return seen;
    const staysId = seen.value.subjectId;
    if (staysId === goesId) return refused(sameAlready);
    const locked = await locksOf(transaction, [goesId, staysId]);
    const [goes, stays] = [goesId, staysId].map((id) => locked.find((thing) => thing.id === id));
    if (goes === undefined || stays === undefined) return refused(notFound('That lot'));
    const live = await liveCodeOf(transaction, into, ['L']);
    if (!live.ok) return live;
    if (live.value.subjectId !== staysId) throw new BeginAgain();
    if ((await transaction.row<{ id: string | null }>(selectMerged, [goesId]))?.id != null) return refused(mergedAlready);
    const [one, other] = await Promise.all([lotToMerge(transaction, goes), lotToMerge(transaction, stays)]);
    const decided = decideMerge(one, other);
    if (!decided.ok) return decided;
    const labels = { goes: formatCode(one.code), stays: formatCode(other.code) };
    await tellOthers(transaction, goesId);
    await this.goOver(transaction, goes, stays, why, labels);
    await tellOthers(transaction, staysId);
    const row = await thingRow(transaction, staysId);
    invariant(row, 'a locked lot is in the books');
    return done({
      lot: { id: staysId, code: other.code, name: row.name },
      words: `${labels.goes} is part of ${labels.stays} now, ${row.held} in all: both labels open it.`,
    });
  }

  /** The claims first, for they may not exceed what is held of the one; then the goods, the labels and the open flags. */
  private async goOver(
    transaction: Transaction,
    goes: LockedThing,
    stays: LockedThing,
    why: string,
    labels: { goes: string; stays: string },
  ): Promise<void> {
    const claims = await claimsOn(transaction, goes.id);
    for (const claim of claims) claimLess(transaction, claim.id, claim.quantity);
    for (const { kind, holderId, quantity } of await whereIs(transaction, goes.id)) {
      if (kind !== 'place') continue;
      passOver(transaction, {
        kind: 'merged',
        fromLotId: goes.id,
        toLotId: stays.id,
        placeId: holderId,
        quantity,
        reasons: [`part of ${labels.stays} from now on`, `was ${labels.goes}`],
        why,
      });
    }
    for (const { claimantId, purposeId, quantity, until, madeById } of claims) {
      claimOn(transaction, stays.id, { claimantId, purposeId, quantity, until, madeById });
      const change = { jobId: claimantId, lineId: purposeId, kind: 'moved to an equal lot', reason: why } as const;
      logClaimChange(transaction, { ...change, on: { thingId: goes.id }, quantity: `-${quantity}`, otherThingId: stays.id });
      logClaimChange(transaction, { ...change, on: { thingId: stays.id }, quantity, until, otherThingId: goes.id });
    }
    for (const label of await liveCodesOf(transaction, goes.id)) {
      await moveCode(transaction, label, { subjectId: stays.id, further: true });
      logLabelChange(transaction, { subjectId: stays.id, code: label.code, kind: 'went over', fromId: goes.id, why });
    }
    transaction.send(moveFlags, [goes.id, stays.id]);
    transaction.send(addNote, [goes.id, stays.id]);
    transaction.send(markMerged, [goes.id, stays.id]);
  }
}

const sameAlready = {
  status: 409,
  code: 'one-already',
  title: 'One lot already',
  detail: 'That label is on this very lot: scan the label of the other bag. Nothing was changed.',
};

const mergedAlready = {
  status: 409,
  code: 'part-of-another-lot',
  title: 'Part of another lot by now',
  detail: 'Somebody made it part of another lot before. Scan its label: it opens that one. Nothing was changed.',
};
