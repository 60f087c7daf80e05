import type { Acceptance, DecideAcceptance } from '@corewright/contracts/acceptance';
import { formatMoney, type Money, parseMoney } from '@corewright/quantities/money';
import { Injectable } from '@nestjs/common';
import { gradeToGive } from '../../../catalogue/grades/grade-to-give.js';
import type { Transaction } from '../../../platform/commands/unit-of-work.js';
import { badInput, done, invariant, notFound, type Result, refused } from '../../../platform/refusal.js';
import { lockOf } from '../../../stores/ledger.js';
import { acceptanceOf } from '../acceptance.queries.js';
import { notHere, unitToJudge } from '../unit-to-judge.js';
import { decideAcceptance } from './decide-acceptance.js';

const selectUnit = 'SELECT unit_id AS id FROM acceptances WHERE id = $1';
const insertDecision = `
  INSERT INTO acceptance_decisions (acceptance_id, command_key, grade, credit_minor, why, person_id) VALUES ($1, $2, $3, $4, $5, $6)`;
const updateGrade = 'UPDATE units SET grade = $2 WHERE thing_id = $1';
const touchThing = 'UPDATE things SET version = version + 1 WHERE id = $1';

/** Decides a core's grade and its credit by a sheet that was filled in. The unit's grade follows. */
@Injectable()
export class DecideAcceptanceHandler {
  async handle(transaction: Transaction, id: string, input: DecideAcceptance): Promise<Result<Acceptance>> {
    const of = await transaction.row<{ id: string }>(selectUnit, [id]);
    if (of === null) return refused(notFound('That sheet'));
    await lockOf(transaction, of.id);
    const [acceptance, unit] = await Promise.all([acceptanceOf(transaction, id), unitToJudge(transaction, of.id)]);
    invariant(acceptance !== null && unit !== null, 'a sheet is of a unit');
    if (!unit.isHere) return refused(notHere(unit));
    const grade = await gradeToGive(transaction, 'core', input.grade, { isNeeded: true });
    if (!grade.ok) return grade;
    const credit = readCredit(input.credit, acceptance.currency);
    if (!credit.ok) return credit;
    const amount = credit.value === null ? null : formatMoney(credit.value, acceptance.currency);
    const asked = { grade: grade.value, credit: amount };
    const decided = decideAcceptance({ acceptance, typeNow: unit.unitTypeId, asked, why: input.why });
    if (!decided.ok) return decided;
    const { key, person } = transaction.command;
    await transaction.rows(insertDecision, [id, key, grade.value, credit.value?.toString() ?? null, input.why, person.id]);
    await transaction.rows(updateGrade, [of.id, grade.value]);
    await transaction.rows(touchThing, [of.id]);
    transaction.news(`thing:${of.id}`);
    const after = await acceptanceOf(transaction, id);
    invariant(after, 'a sheet that was just decided is there');
    return done(after);
  }
}

function readCredit(keyed: string, currency: string): Result<Money | null> {
  if (keyed === '') return done(null);
  const read = parseMoney(keyed, currency);
  return read.ok ? done(read.value) : refused(badInput('credit', read.error.sentence));
}
