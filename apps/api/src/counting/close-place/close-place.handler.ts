import type { ClosePlace, PlaceClosed } from '@corewright/contracts/counting';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { done, type Result, refused } from '../../platform/refusal.js';
import { dateOf } from '../enter/date-of-entry.js';
import { readAwaited, whyNotLook } from '../enter/second-look.js';
import { lockCountAt, placeToCount } from '../open-count.js';
import { takingsOf } from '../take-place/take-place.handler.js';

const insertClosing = `
  INSERT INTO count_closings (id, count_id, command_key, place_id, person_id, occurred_at, in_own_name)
  VALUES ($1, $2, $3, $4, $5, least($6::timestamptz, clock_timestamp()), $7)`;

/** Everything at a place is scanned: what the books have there and nobody scanned is missing. Where a second look waits, that is one. */
@Injectable()
export class ClosePlaceHandler {
  async handle(transaction: Transaction, input: ClosePlace): Promise<Result<PlaceClosed>> {
    const place = await placeToCount(transaction, input.placeId);
    if (!place.ok) return place;
    const count = await lockCountAt(transaction, place.value, input.countId, 'alone');
    if (!count.ok) return count;
    const { id, path, code } = place.value;
    if ((await takingsOf(transaction, count.value.id, id)).length === 0)
      return refused({
        status: 409,
        code: 'nobody-was-there',
        title: 'Nobody has counted here',
        detail: `Scan ${path} first, then what lies there. Where nothing does, scan the place and say that all is scanned. Nothing was changed.`,
      });
    const looks = await whyNotLook(transaction, await readAwaited(transaction, count.value.id, id), {
      inOwnName: input.inOwnName,
      how: 'Say once more that all is scanned, where you have looked again and it is not there',
    });
    if (looks.refusal !== null) return refused(looks.refusal);
    const { key, person, madeAt } = transaction.command;
    const dated = dateOf({
      said: input.occurredAt ?? madeAt,
      now: new Date(),
      begunAt: count.value.begunAt,
      knownSince: null,
    });
    if (!dated.ok) return dated;
    await transaction.rows(insertClosing, [newId(), count.value.id, key, id, person.id, dated.value.at, looks.isInOwnName]);
    transaction.news('counts', 'today');
    const words = [`${path}: everything that lies there is scanned.`, dated.value.words].filter(Boolean).join(' ');
    return done({ act: 'place closed', place: { id, code, name: path }, words });
  }
}
