import type { CountPage, RecordCountFinding } from '@corewright/contracts/counting';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { badInput, done, invariant, type Result, refused } from '../../platform/refusal.js';
import { CountPages } from '../count-page.js';
import { thingScanned } from '../counted-thing.js';
import { dateOf } from '../enter/date-of-entry.js';
import { lockCountAt, placeToCount } from '../open-count.js';

const isThere = 'SELECT 1 AS there FROM count_findings WHERE id = $1';
const insertFinding = `
  INSERT INTO count_findings (id, count_id, command_key, place_id, kind, thing_id, words, quantity, person_id, occurred_at)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`;
const insertFlag = "INSERT INTO stores_flags (id, thing_id, kind, words, person_id) VALUES ($1, $2, 'another label', $3, $4)";

/**
 * Something lies there without a label, or under the label of something else, or whoever counts a thing doubts the figure: kept in words until
 * somebody decides. Photographs of it come by its id, before or after.
 */
@Injectable()
export class RecordFindingHandler {
  constructor(private readonly pages: CountPages) {}

  async handle(transaction: Transaction, input: RecordCountFinding): Promise<Result<CountPage>> {
    const place = await placeToCount(transaction, input.placeId);
    if (!place.ok) return place;
    const labelled = input.code === null ? done(null) : await thingScanned(transaction, input.code);
    if (!labelled.ok) return labelled;
    const count = await lockCountAt(transaction, place.value, input.countId, 'shared');
    if (!count.ok) return count;
    if (await transaction.row(isThere, [input.id])) return refused(badInput('id', 'This was written down already.'));
    const { key, person, madeAt } = transaction.command;
    const { id: countId, begunAt } = count.value;
    const dated = dateOf({ said: input.occurredAt ?? madeAt, now: new Date(), begunAt, knownSince: null });
    if (!dated.ok) return dated;
    const { id, kind, words, quantity } = input;
    const thingId = labelled.value?.id ?? null;
    await transaction.rows(insertFinding, [
      id,
      countId,
      key,
      place.value.id,
      kind,
      thingId,
      words,
      quantity,
      person.id,
      dated.value.at,
    ]);
    if (thingId !== null && kind === 'another label') {
      await transaction.rows(insertFlag, [
        newId(),
        thingId,
        `Its label is on something else in ${place.value.path}: ${words}`,
        person.id,
      ]);
      transaction.news(`thing:${thingId}`, 'stores');
    }
    transaction.news('counts', 'today');
    const page = await this.pages.of(transaction, countId, person);
    invariant(page, 'a locked count is there');
    return done(page);
  }
}
