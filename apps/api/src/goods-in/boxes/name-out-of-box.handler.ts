import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import type { NamedOutOfBox, NameOutOfBox } from '@corewright/contracts/boxes';
import { Injectable } from '@nestjs/common';
import { partFacts } from '../../catalogue/part.queries.js';
import { WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { badInput, done, invariant, type Result, refused } from '../../platform/refusal.js';
import { claimCode } from '../../scanning/code-register.js';
import { PassOn } from '../../stores/costs/pass-on/pass-on.js';
import { recordTypeKeyed } from '../../stores/identify-unit/record-identification.js';
import { addLot, addUnit, type LotFacts, type UnitFacts } from '../../stores/new-things.js';
import { placeForGoods } from '../../stores/place-for-goods.js';
import { outOfWhole } from '../../stores/take-off/out-of-whole.js';
import { thingRow } from '../../stores/thing.queries.js';
import { readLot, readUnit } from '../row-facts.js';
import { boxPage } from './box-page.js';
import { whyNotNamed } from './decide-taking.js';
import { type LockedBox, lockBox } from './lock-box.js';
import { writeTaking } from './write-taking.js';

const thingIsThere = 'SELECT 1 AS there FROM things WHERE id = $1';
/** Of what bears none yet. */
const noGrade = '';
const renameRest = 'UPDATE unsorted_boxes SET words = $2 WHERE thing_id = $1';
const touchThing = 'UPDATE things SET version = version + 1 WHERE id = $1';
/** Whoever has the row of its load open sees that it was changed. */
const touchRow = 'UPDATE load_rows SET version = version + 1 WHERE thing_id = $1';

type Named =
  | { kind: 'unit'; quantity: '1'; pieces: 1; facts: UnitFacts }
  | { kind: 'lot'; quantity: string; pieces: number; facts: LotFacts };

/** Something in a box is named: a unit or a lot of its own from now on, with its label; the rest stays unsorted. */
@Injectable()
export class NameOutOfBoxHandler {
  constructor(
    private readonly clock: WorkshopClock,
    private readonly passOn: PassOn,
  ) {}

  async handle(transaction: Transaction, boxId: string, input: NameOutOfBox): Promise<Result<NamedOutOfBox>> {
    const locked = await lockBox(transaction, boxId);
    if (!locked.ok) return locked;
    const box = locked.value;
    if (await transaction.row(thingIsThere, [input.id]))
      return refused(badInput('id', 'A thing with this id is in the books already.'));
    const read = await this.read(transaction, input);
    if (!read.ok) return read;
    const barred = whyNotNamed(box.state, read.value.pieces);
    if (barred !== null) return refused(barred);
    const place = await placeOf(transaction, box, input.placeId);
    if (!place.ok) return place;
    const code = await this.add(transaction, box, input, read.value);
    if (!code.ok) return code;
    const { quantity, pieces } = read.value;
    const step = { thingId: input.id, quantity, toHolderId: place.value, reason: 'taken out of its box' };
    await outOfWhole(transaction, { kind: 'box', wholeId: boxId, ...step });
    const takingId = newId();
    await writeTaking(transaction, { id: takingId, boxId, kind: 'named', thingId: input.id, pieces, why: '' });
    if (input.wordsLeft !== '') await transaction.rows(renameRest, [boxId, input.wordsLeft]);
    await this.passOn.anew(transaction, boxId, 'named out of the box');
    await transaction.rows(touchThing, [boxId]);
    await transaction.rows(touchRow, [boxId]);
    return done(await answer(transaction, boxId, { takingId, thingId: input.id, code: code.value }));
  }

  private async read(transaction: Transaction, input: NameOutOfBox): Promise<Result<Named>> {
    if (input.kind === 'unit') {
      const facts = await readUnit(transaction, input, noGrade);
      return facts.ok ? done({ kind: 'unit', quantity: '1', pieces: 1, facts: facts.value }) : facts;
    }
    const lot = await readLot(transaction, input, await this.clock.today(transaction));
    if (!lot.ok) return lot;
    const part = input.partId === null ? null : await partFacts(transaction, input.partId);
    // what is measured or weighed is one piece of the box, however long or heavy
    const pieces = (part?.unitOfMeasure ?? 'each') === 'each' ? Number(lot.value.quantity) : 1;
    return done({ kind: 'lot', pieces, ...lot.value });
  }

  private async add(
    transaction: Transaction,
    { thing }: LockedBox,
    { id, kind, code }: NameOutOfBox,
    named: Named,
  ): Promise<Result<LabelCode>> {
    const claimed = code === null ? done(null) : await claimCode(transaction, kind === 'unit' ? 'U' : 'L', id, code);
    if (!claimed.ok) return claimed;
    if (claimed.value !== null) transaction.news('blank-labels');
    const { ownerId } = thing;
    if (named.kind === 'unit') {
      const given = await addUnit(transaction, id, ownerId, named.facts, claimed.value);
      const { unitTypeId: now, marks } = named.facts;
      if (now !== null)
        await recordTypeKeyed(transaction, {
          unitId: id,
          before: null,
          now,
          marks,
          where: 'it was keyed so when it was taken out of its box',
        });
      return done(given);
    }
    return done(await addLot(transaction, id, ownerId, named.facts, claimed.value));
  }
}

/** The place that was keyed, or where the box lies. */
async function placeOf(transaction: Transaction, { lies }: LockedBox, keyed: string | null): Promise<Result<string>> {
  if (keyed === null && lies?.kind === 'place') return done(lies.holderId);
  if (keyed === null) return refused(badInput('placeId', 'The box lies in no place of the stores. Say where this goes.'));
  const place = await placeForGoods(transaction, keyed);
  return place.ok ? done(keyed) : place;
}

async function answer(
  transaction: Transaction,
  boxId: string,
  { takingId, thingId, code }: { takingId: string; thingId: string; code: LabelCode },
): Promise<NamedOutOfBox> {
  const [row, box] = [await thingRow(transaction, thingId), await boxPage(transaction, boxId)];
  invariant(row !== null && box !== null, 'what was just named is there, and so is its box');
  const left = box.piecesLeft === null ? 'The rest stays unsorted.' : `${box.piecesLeft} are left unsorted.`;
  const words = `${row.name} is ${formatCode(code)} now. ${left}`;
  return { thing: { id: thingId, code, name: row.name }, takingId, words, box };
}
