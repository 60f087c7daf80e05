import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import type { BoxPage } from '@corewright/contracts/boxes';
import { decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { done, invariant, notFound, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { voidCodes } from '../../scanning/code-register.js';
import { PassOn } from '../../stores/costs/pass-on/pass-on.js';
import { type Balance, type LockedThing, lockOf, move, whereIs } from '../../stores/ledger.js';
import { backIntoWhole } from '../../stores/take-off/out-of-whole.js';
import { thingRow } from '../../stores/thing.queries.js';
import { WhoRelies } from '../who-relies.js';
import { boxPage } from './box-page.js';
import { type LockedBox, lockBox } from './lock-box.js';
import { writeTaking } from './write-taking.js';

interface Taking extends Record<string, unknown> {
  id: string;
  kind: 'named' | 'emptied' | 'undone';
  thingId: string | null;
  movementId: string | null;
  pieces: number;
  isUndone: boolean;
}

const selectTaking = `
  SELECT id, kind, thing_id AS "thingId", movement_id AS "movementId", pieces,
         EXISTS (SELECT FROM box_takings AS later WHERE later.undoes_id = taking.id) AS "isUndone"
    FROM box_takings AS taking WHERE id = $1 AND box_id = $2`;
const selectMovement = 'SELECT from_holder_id AS "from", to_holder_id AS "to" FROM movements WHERE id = $1';
const firstQuantity = 'SELECT quantity FROM movements WHERE thing_id = $1 ORDER BY sequence LIMIT 1';

/** The wrong thing was named, or a box was said to be empty that is not: it is reversed by further movements, and all of it stays on the record. */
@Injectable()
export class UndoTakingHandler {
  constructor(
    private readonly reliance: WhoRelies,
    private readonly passOn: PassOn,
  ) {}

  async handle(transaction: Transaction, boxId: string, takingId: string, why: string): Promise<Result<BoxPage>> {
    const locked = await lockBox(transaction, boxId);
    if (!locked.ok) return locked;
    const taking = await transaction.row<Taking>(selectTaking, [takingId, boxId]);
    if (taking === null || taking.kind === 'undone') return refused(notFound('That act at this box'));
    if (taking.isUndone) return refused(undoneAlready);
    const fault =
      taking.kind === 'named'
        ? await this.putBack(transaction, locked.value, taking, why)
        : await fillAgain(transaction, boxId, taking);
    if (fault !== null) return refused(fault);
    await writeTaking(transaction, { id: newId(), boxId, kind: 'undone', pieces: taking.pieces, undoesId: taking.id, why });
    await this.passOn.anew(transaction, boxId, `undone: ${why}`.slice(0, 200));
    const page = await boxPage(transaction, boxId);
    invariant(page, 'a locked box is in the books');
    return done(page);
  }

  private async putBack(transaction: Transaction, box: LockedBox, taking: Taking, why: string): Promise<Refusal | null> {
    if (box.state.saidEmpty) return saidEmptySince;
    invariant(taking.thingId, 'what was named is a thing');
    const thing = await lockOf(transaction, taking.thingId);
    invariant(thing, 'what was named is in the books');
    const because = await this.reliance.on(transaction, thing);
    if (because !== null) return stays(because);
    const here = await wholeAt(transaction, thing);
    if (here === null) return stays('Some of it was used, sent out or counted otherwise since. Put that right first.');
    const row = await thingRow(transaction, thing.id);
    const quantity = formatDecimal(decimalFrom(here.quantity));
    await backIntoWhole(transaction, {
      wholeId: box.thing.id,
      thingId: thing.id,
      here,
      quantity,
      reason: `put back into its box: ${why}`,
    });
    const was = `${thing.kind === 'L' ? `${quantity} of ` : ''}${row?.name ?? 'something'}`;
    await voidCodes(
      transaction,
      thing.id,
      `This was ${was}, named out of ${formatCode(box.state.code as LabelCode)} and put back: ${why}`,
    );
    return null;
  }
}

/** Where all of it lies; null where it is apart, elsewhere, or not as many as came out of the box. */
async function wholeAt(transaction: Transaction, thing: LockedThing): Promise<Balance | null> {
  const there = (await whereIs(transaction, thing.id)).filter((balance) => decimalFrom(balance.quantity) > 0n);
  const [only, another] = there;
  if (only === undefined || another !== undefined || only.kind !== 'place') return null;
  const first = await transaction.row<{ quantity: string }>(firstQuantity, [thing.id]);
  return first !== null && decimalFrom(first.quantity) === decimalFrom(only.quantity) ? only : null;
}

async function fillAgain(transaction: Transaction, boxId: string, { movementId }: Taking): Promise<Refusal | null> {
  const way = await transaction.row<{ from: string; to: string }>(selectMovement, [movementId]);
  invariant(way && movementId, 'a box that was emptied left its place');
  const reason = 'not empty after all';
  move(transaction, {
    thingId: boxId,
    quantity: '1',
    fromHolderId: way.to,
    toHolderId: way.from,
    reason,
    reversesId: movementId,
  });
  return null;
}

function stays(because: string): Refusal {
  return {
    status: 409,
    code: 'in-use',
    title: 'In use already',
    detail: `This cannot be put back into its box. ${because} Nothing was changed.`,
  };
}

const undoneAlready: Refusal = {
  status: 409,
  code: 'undone-already',
  title: 'Undone already',
  detail: 'Somebody undid this before. Nothing was changed.',
};

const saidEmptySince: Refusal = {
  status: 409,
  code: 'box-empty',
  title: 'The box was said to be empty',
  detail: 'Somebody said that its box is empty. Undo that first, then put this back into it. Nothing was changed.',
};
