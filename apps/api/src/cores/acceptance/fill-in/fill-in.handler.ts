import type { Acceptance, FillInAcceptance } from '@corewright/contracts/acceptance';
import { Injectable } from '@nestjs/common';
import { gradesOfScale } from '../../../catalogue/grades/grade.queries.js';
import type { Transaction } from '../../../platform/commands/unit-of-work.js';
import { done, invariant, notFound, type Result, refused } from '../../../platform/refusal.js';
import { lockOf } from '../../../stores/ledger.js';
import { acceptanceOf, type JudgedBy } from '../acceptance.queries.js';
import { acceptanceTerms } from '../terms.queries.js';
import { unitToJudge, whyNotFilledIn } from '../unit-to-judge.js';
import { suggest } from './suggest.js';

const selectStanding = `
  SELECT id FROM acceptances WHERE unit_id = $1 AND NOT EXISTS (SELECT FROM acceptances AS later WHERE later.supersedes_id = acceptances.id)`;
const insertAcceptance = `
  INSERT INTO acceptances (id, command_key, unit_id, unit_type_id, answers, inputs, suggestion, currency, supersedes_id, person_id)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`;

/** Writes down what was seen of a core; with it what it was judged by and what that suggests. It takes the place of the sheet before it. */
@Injectable()
export class FillInHandler {
  async handle(transaction: Transaction, unitId: string, input: FillInAcceptance): Promise<Result<Acceptance>> {
    const locked = await lockOf(transaction, unitId);
    const unit = locked?.kind === 'U' ? await unitToJudge(transaction, unitId) : null;
    if (unit === null) return refused(notFound('That unit'));
    const why = whyNotFilledIn(unit);
    if (why !== null) return refused(why);
    invariant(unit.unitTypeId, 'a unit whose type has a sheet has a type');
    const terms = await acceptanceTerms(transaction, unit.unitTypeId);
    invariant(terms, 'a type that has a sheet is in the books');
    if (terms.version !== input.termsVersion) return refused(askedOtherwise(terms.version));
    const { points, components, fullCredit, currency } = terms;
    const grades = (await gradesOfScale(transaction, 'core')).filter(({ retired }) => !retired).map(({ letter }) => letter);
    const suggested = suggest(terms, input, grades);
    if (!suggested.ok) return suggested;
    const judgedBy: JudgedBy = { points, components, fullCredit, grades };
    const answers = { points: input.points, components: input.components };
    const standing = await transaction.row<{ id: string }>(selectStanding, [unitId]);
    const { key, person } = transaction.command;
    await transaction.rows(insertAcceptance, [
      input.id,
      key,
      unitId,
      unit.unitTypeId,
      JSON.stringify(answers),
      JSON.stringify(judgedBy),
      JSON.stringify(suggested.value),
      currency,
      standing?.id ?? null,
      person.id,
    ]);
    transaction.news(`thing:${unitId}`);
    const after = await acceptanceOf(transaction, input.id);
    invariant(after, 'a sheet that was just written is there');
    return done(after);
  }
}

function askedOtherwise(version: number) {
  return {
    status: 412,
    code: 'asked-otherwise',
    title: 'Something else is asked by now',
    detail:
      'Someone changed what is asked of this type since you opened the sheet. Nothing was written: look at what is asked now, and keep it again.',
    values: { version },
  };
}
