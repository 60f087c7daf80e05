import type { EditLoadCost, LoadCost, SaidLine } from '@corewright/contracts/costs';
import { Injectable } from '@nestjs/common';
import { partFacts } from '../../catalogue/part.queries.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../../platform/commands/version-seen.js';
import { rowsInto, rowsTogether } from '../../platform/database/many-rows.js';
import { badInput, done, invariant, notFound, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { lockOfLoad } from '../load.queries.js';
import { paidForLoad } from './load-cost.queries.js';
import { loadCostPage } from './load-cost-page.js';
import { decidePaid } from './what-was-paid.js';

const updatePaid = `
  UPDATE loads SET price_minor = $2, haulage_minor = $3, fees_minor = $4, currency = $5, rate = $6, version = version + 1 WHERE id = $1`;
const forgetSaid = 'DELETE FROM load_descriptions WHERE load_id = $1';
const insertSaid = rowsInto(
  'load_descriptions',
  'load_id uuid',
  'position smallint',
  'words text',
  'quantity integer',
  'unit_type_id uuid',
  'part_id uuid',
);
const typeIsThere = 'SELECT 1 AS there FROM unit_types WHERE id = $1';

/** Keeps what was paid for a load and what was said to be in it. What was shared stays as it was until it is shared again. */
@Injectable()
export class EditCostHandler {
  async handle(transaction: Transaction, loadId: string, input: EditLoadCost): Promise<Result<LoadCost>> {
    if ((await lockOfLoad(transaction, loadId)) === null) return refused(notFound('That load'));
    const load = await paidForLoad(transaction, loadId);
    const page = await loadCostPage(transaction, loadId);
    invariant(load !== null && page !== null, 'a locked load is there');
    const late = whyNotCurrent(transaction.command, page);
    if (late !== null) return refused(late);
    const decided = decidePaid(input, load.ours);
    if (!decided.ok) return decided;
    const stranger = await whyNotSaid(transaction, input.said);
    if (stranger !== null) return refused(stranger);
    const { price, haulage, fees, currency, rate } = decided.value;
    const amounts = [price, haulage, fees].map((amount) => amount?.toString() ?? null);
    await transaction.rows(updatePaid, [loadId, ...amounts, currency === load.ours ? null : currency, rate]);
    await transaction.rows(forgetSaid, [loadId]);
    if (input.said.length > 0)
      await transaction.rows(
        insertSaid.text,
        rowsTogether(
          input.said.map((line, index) => [loadId, index + 1, line.words, line.quantity, line.unitTypeId, line.partId]),
        ),
      );
    transaction.news(`load:${loadId}`, 'loads', 'stores');
    const after = await loadCostPage(transaction, loadId);
    invariant(after, 'a locked load is there');
    return done(after);
  }
}

async function whyNotSaid(transaction: Transaction, said: readonly SaidLine[]): Promise<Refusal | null> {
  for (const [index, { unitTypeId, partId }] of said.entries()) {
    if (unitTypeId !== null && partId !== null)
      return badInput(`said.${index}.partId`, 'A line is of a unit type or of a part, not of both. Choose one.');
    if (unitTypeId !== null && !(await transaction.row(typeIsThere, [unitTypeId])))
      return badInput(
        `said.${index}.unitTypeId`,
        'That unit type is not in the books. Choose one from the list, or say it in words.',
      );
    if (partId !== null && (await partFacts(transaction, partId)) === null)
      return badInput(`said.${index}.partId`, 'That part is not in the books. Choose one from the list, or say it in words.');
  }
  return null;
}
