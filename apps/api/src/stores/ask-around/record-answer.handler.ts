import type { RecordAnswer, ThingAnswer } from '@corewright/contracts/ask-around';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, notFound, type Result, refused } from '../../platform/refusal.js';
import { lockOf } from '../ledger.js';
import { answersOn } from './ask-around.queries.js';

const insertAnswer = `
  INSERT INTO thing_answers (id, command_key, thing_id, told_by, words, person_id) VALUES ($1, $2, $3, $4, $5, $6)`;
const isAskedAround = 'SELECT 1 AS there FROM lots WHERE thing_id = $1 AND ask_around';
const isThere = 'SELECT 1 AS there FROM thing_answers WHERE id = $1';

/** Puts on the record who said what a thing is; what it is said to be in the books stays until somebody names it there. */
@Injectable()
export class RecordAnswerHandler {
  async handle(
    transaction: Transaction,
    thingId: string,
    { id, toldBy, words }: RecordAnswer,
  ): Promise<Result<{ answers: ThingAnswer[] }>> {
    const thing = await lockOf(transaction, thingId);
    if (thing === null) return refused(notFound('That thing'));
    if (thing.kind !== 'U' && thing.kind !== 'X' && !(await transaction.row(isAskedAround, [thingId])))
      return refused({
        status: 409,
        code: 'named-already',
        title: 'It has a name',
        detail:
          'Answers are kept of what nobody could name: units, boxes, and parts that were left to be asked around. Put right what this is on its own page. Nothing was changed.',
      });
    if (await transaction.row(isThere, [id])) return refused(badInput('id', 'An answer with this id is in the books already.'));
    const { key, person } = transaction.command;
    await transaction.rows(insertAnswer, [id, key, thingId, toldBy, words, person.id]);
    transaction.news(`thing:${thingId}`, 'stores');
    return done({ answers: await answersOn(transaction, thingId) });
  }
}
