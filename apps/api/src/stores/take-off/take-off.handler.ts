import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import type { Coded } from '@corewright/contracts/base';
import type { TakeOffComponent } from '@corewright/contracts/stores';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import { partFacts } from '../../catalogue/part.queries.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, notFound, type Result, refused } from '../../platform/refusal.js';
import { whyNotOpened } from '../goods-apart/why-barred.js';
import { lockOf } from '../ledger.js';
import { addComponent } from '../new-things.js';
import { placeForGoods } from '../place-for-goods.js';
import { codeOf } from '../place-words.js';
import { outOfWhole } from './out-of-whole.js';

const one = '1';

const takenBefore = `SELECT name, ${codeOf('components.thing_id')} AS code FROM components WHERE unit_id = $1 AND position = $2`;
const thingIsThere = 'SELECT 1 AS there FROM things WHERE id = $1';

/** A component is taken off its unit and kept: it gets a tag at once, so that a shaft does not vanish at the plater. */
@Injectable()
export class TakeOffHandler {
  async handle(transaction: Transaction, unitId: string, input: z.infer<typeof TakeOffComponent>): Promise<Result<Coded>> {
    const unit = await lockOf(transaction, unitId);
    if (unit === null || unit.kind !== 'U') return refused(notFound('That unit'));
    if (Number(unit.held) === 0) return refused(notHere);
    const barred = whyNotOpened(unit);
    if (barred !== null) return refused(barred);
    const faults = await this.faultsOf(transaction, unitId, input);
    if (!faults.ok) return faults;
    const { id, position, name, partId, note, placeId } = input;
    const code = await addComponent(transaction, id, unit.ownerId, { unitId, position, name, partId, note });
    await outOfWhole(transaction, {
      kind: 'unit',
      wholeId: unitId,
      thingId: id,
      quantity: one,
      toHolderId: placeId,
      reason: 'taken off',
    });
    transaction.news(`thing:${unitId}`, `thing:${id}`, 'stores');
    return done({ id, code, name });
  }

  private async faultsOf(
    transaction: Transaction,
    unitId: string,
    input: z.infer<typeof TakeOffComponent>,
  ): Promise<Result<null>> {
    if (await transaction.row(thingIsThere, [input.id]))
      return refused(badInput('id', 'A thing with this id is in the books already.'));
    const before = await transaction.row<{ name: string; code: LabelCode }>(takenBefore, [unitId, input.position]);
    if (before !== null)
      return refused({
        status: 409,
        code: 'already-off',
        title: 'It has a tag already',
        detail: `Number ${input.position} of this unit, ${before.name}, was taken off before and is ${formatCode(before.code)}. Nothing was changed.`,
        values: { code: before.code },
      });
    if (input.partId !== null && (await partFacts(transaction, input.partId)) === null)
      return refused(badInput('partId', 'That part is not in the books. Choose one from the list, or leave it empty.'));
    const place = await placeForGoods(transaction, input.placeId);
    return place.ok ? done(null) : place;
  }
}

const notHere = {
  status: 409,
  code: 'unit-not-here',
  title: 'The unit is not here',
  detail:
    'By the books this unit is not in the workshop, so nothing can be taken off it. Put it away first, then take the component off.',
};
