import type { BuildStandardRules, EditBuildStandard } from '@corewright/contracts/build-standards';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../../platform/commands/version-seen.js';
import { badInput, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { lockBuildStandard, standardShown } from './build-standard.queries.js';

/** One that it asks for already may stay, though it is no longer offered. */
const gradeThere = `
  SELECT 1 AS there FROM grades WHERE scale = 'part' AND letter = $1 AND (NOT retired OR letter = $2) FOR KEY SHARE`;
const update = `
  UPDATE build_standards SET ways = $2, sources = $3, makes = $4, grade_least = $5, version = version + 1 WHERE id = $1`;

/** Changes what jobs that are built so accept. It holds at once, for the jobs that are open as well; what is fitted stays fitted. */
@Injectable()
export class EditBuildStandardHandler {
  async handle(transaction: Transaction, id: string, input: EditBuildStandard): Promise<Result<BuildStandardRules>> {
    const before = await lockBuildStandard(transaction, id);
    if (before === null) return refused(notFound('That build standard'));
    const unseen = whyNotCurrent(transaction.command, standardShown(before));
    if (unseen !== null) return refused(unseen);
    if (input.gradeLeast !== '' && (await transaction.row(gradeThere, [input.gradeLeast, before.gradeLeast])) === null)
      return refused(badInput('gradeLeast', `No grade ${input.gradeLeast} is offered for parts. Choose one of the scale.`));
    await transaction.rows(update, [id, unique(input.ways), unique(input.sources), unique(input.makes), input.gradeLeast]);
    transaction.news('settings', 'jobs', 'today', 'stores');
    const after = await lockBuildStandard(transaction, id);
    invariant(after, 'a build standard that was just written is there');
    return done(standardShown(after));
  }
}

function unique<Item>(items: readonly Item[]): Item[] {
  return [...new Set(items)];
}
