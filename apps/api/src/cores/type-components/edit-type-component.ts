import type { EditTypeComponent, TypeComponent } from '@corewright/contracts/cores';
import { partFacts } from '../../catalogue/part.queries.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../../platform/commands/version-seen.js';
import { badInput, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { lockTypeComponent } from './type-component.queries.js';

const update = `
  UPDATE unit_type_components SET part_id = $3, must_be_looked_at = $4, usual_fate = $5, kept_set = $6, is_main_casing = $7, keeps_thickness = $8,
         version = version + 1
   WHERE unit_type_id = $1 AND position = $2`;
const otherCasing = 'SELECT name FROM unit_type_components WHERE unit_type_id = $1 AND position <> $2 AND is_main_casing';

/** What a type expects of one component: its usual fate, the part that it is in stores, whether somebody must look at it. */
export async function editTypeComponent(
  transaction: Transaction,
  unitTypeId: string,
  position: number,
  input: EditTypeComponent,
): Promise<Result<TypeComponent>> {
  const before = await lockTypeComponent(transaction, unitTypeId, position);
  if (before === null) return refused(notFound('That component'));
  const unseen = whyNotCurrent(transaction.command, before);
  if (unseen !== null) return refused(unseen);
  if (input.partId !== null && (await partFacts(transaction, input.partId)) === null)
    return refused(badInput('partId', 'That part is not in the books. Choose one from the list, or leave it empty.'));
  const casing = await transaction.row<{ name: string }>(otherCasing, [unitTypeId, position]);
  if (input.isMainCasing && casing !== null)
    return refused(
      badInput(
        'isMainCasing',
        `${casing.name} is the main casing of this type. A unit is known by one casing: change that one first.`,
      ),
    );
  const { partId, mustBeLookedAt, usualFate, keptSet, isMainCasing, keepsThickness } = input;
  await transaction.rows(update, [
    unitTypeId,
    position,
    partId,
    mustBeLookedAt,
    usualFate,
    keptSet,
    isMainCasing,
    keepsThickness,
  ]);
  transaction.news('settings', 'strip-downs');
  const after = await lockTypeComponent(transaction, unitTypeId, position);
  invariant(after, 'a component that was just written is there');
  return done(after);
}
