import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import type { Coded, Make } from '@corewright/contracts/base';
import { type Decimal, formatDecimal, one } from '@corewright/quantities/decimal';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { badInput, done, invariant, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { ChangeHoldHandler } from '../../stores/change-hold/change-hold.handler.js';
import { whyOfNoUse } from '../../stores/goods-apart/why-barred.js';
import { claimMore, holderOf, lockOf, move, scrapId } from '../../stores/ledger.js';
import { addComponent, addHarvestedLot } from '../../stores/new-things.js';
import { placeForGoods } from '../../stores/place-for-goods.js';
import { codeOf } from '../../stores/place-words.js';
import { outAgain } from '../../stores/take-off/out-again.js';
import { outOfWhole } from '../../stores/take-off/out-of-whole.js';
import type { FittedHere } from '../fitted-here.js';
import { JobOfUnitRegister, type LineOfPart } from '../job-of-unit.js';
import type { StripDownUnderWay } from '../lock-strip-down.js';
import type { Fate } from './fate.js';
import type { GoesOn } from './put-right.js';

/** So many of a component and what is to be done with them. */
export interface Doing {
  fate: Fate;
  position: number;
  name: string;
  /** how many of it the type has */
  of: Decimal;
  quantity: Decimal;
  partId: string | null;
  stamped: string;
  thickness: string | null;
  condition: string;
  make: Make;
  note: string;
  placeId: string | null;
  firmId: string | null;
  line: LineOfPart | null;
  goesOn: GoesOn | null;
  /** the lot that was fitted here and is this component now; null for what the unit came with */
  fitted: FittedHere | null;
}

const outworker = 'SELECT is_outworker AS "isOutworker" FROM parties WHERE id = $1';
const nextPiece =
  'SELECT coalesce(max(piece + pieces - 1), 0)::integer + 1 AS next FROM components WHERE unit_id = $1 AND position = $2';
const renameComponent = 'UPDATE components SET name = $2, pieces = $3, note = $4 WHERE thing_id = $1';
const codeOfLot = `SELECT ${codeOf('$1::uuid')} AS code`;
const taggedAs = `SELECT piece, ${codeOf('thing_id')} AS code FROM components WHERE thing_id = $1`;

/** Takes components out of their unit as their fate says: into stores, into the tray, to a firm, into scrap. */
@Injectable()
export class CarryOut {
  constructor(
    private readonly holds: ChangeHoldHandler,
    private readonly jobs: JobOfUnitRegister,
  ) {}

  /** What it became; null for what stays in the unit or was never there. */
  async do(transaction: Transaction, strip: StripDownUnderWay, doing: Doing): Promise<Result<Coded | null>> {
    const { fate } = doing;
    if (fate.make === 'nothing') return done(null);
    const to = await this.holderFor(transaction, strip, doing);
    if (!to.ok) return to;
    const barred = fate.make === 'component' && fate.isForJob ? await whyNotForJob(transaction, doing) : null;
    if (barred !== null) return refused(barred);
    if (fate.make === 'lot' && doing.fitted === null && doing.goesOn === null)
      return done(await this.intoStores(transaction, strip, doing, to.value));
    const out = await this.outOf(transaction, strip, doing, to.value);
    if (fate.make === 'lot') return done(out);
    const isLot = doing.fitted !== null || doing.goesOn?.thing.kind === 'L';
    if (fate.heldBack !== null) await this.holds.put(transaction, out.id, fate.heldBack);
    if (fate.isForJob && strip.job !== null) {
      const quantity = isLot ? formatDecimal(doing.quantity) : '1';
      claimMore(transaction, out.id, strip.job.id, doing.line?.id ?? null, quantity);
    }
    return done(out);
  }

  private outOf(transaction: Transaction, strip: StripDownUnderWay, doing: Doing, to: string): Promise<Coded> {
    const { goesOn, fitted } = doing;
    if (goesOn !== null)
      return goesOn.thing.kind === 'L'
        ? this.lotSentOn(transaction, doing, goesOn, to)
        : this.sentOn(transaction, doing, goesOn, to);
    return fitted === null
      ? this.tagged(transaction, strip, doing, to)
      : this.outAgain(transaction, strip, { ...doing, fitted }, to);
  }

  /** It was fitted here: what comes out is no second thing but that lot, fitted once. */
  private async outAgain(
    transaction: Transaction,
    { unit }: StripDownUnderWay,
    doing: Doing & { fitted: FittedHere },
    toHolderId: string,
  ): Promise<Coded> {
    const { fitted, name } = doing;
    const newLotId = newId();
    const quantity = formatDecimal(doing.quantity);
    const why = [`strip-down of ${formatCode(unit.code as LabelCode)}`, noteOf(doing)].filter((words) => words !== '').join(', ');
    const { thingId, fittingId } = fitted;
    const step = { thingId, unitId: unit.id, newLotId, ownerId: unit.ownerId, quantity, toHolderId, why };
    const { code, movementId } = await outAgain(transaction, step);
    await this.jobs.end(transaction, { fittingId, quantity, movementId, newLotId, why });
    transaction.news(`thing:${thingId}`);
    return { id: newLotId, code, name };
  }

  /** A lot that was fitted here and taken out goes elsewhere; it stays the lot that it is. */
  private async lotSentOn(
    transaction: Transaction,
    { name, quantity }: Doing,
    { thing, holderId }: GoesOn,
    to: string,
  ): Promise<Coded> {
    const row = await transaction.row<{ code: string }>(codeOfLot, [thing.id]);
    invariant(row?.code, 'a lot has a code');
    const reason = 'put right at the strip-down';
    if (thing.heldBackReason !== null) await this.holds.put(transaction, thing.id, reason, false);
    if (holderId !== to)
      move(transaction, { thingId: thing.id, quantity: formatDecimal(quantity), fromHolderId: holderId, toHolderId: to, reason });
    return { id: thing.id, code: row.code, name };
  }

  private async holderFor(transaction: Transaction, { job }: StripDownUnderWay, doing: Doing): Promise<Result<string>> {
    const { fate, placeId, firmId } = doing;
    const to = fate.make === 'nothing' ? 'place' : fate.to;
    if (to === 'scrap') return done(scrapId);
    if (to === 'tray') {
      invariant(job, 'only a job has a tray');
      return done(job.trayId);
    }
    if (to === 'firm') {
      const firm = await transaction.row<{ isOutworker: boolean }>(outworker, [firmId]);
      if (!firm?.isOutworker) return refused(badInput('firmId', 'Choose a firm to whom things are sent for work.'));
      return done(holderOf(transaction, firmId as string, 'outworker'));
    }
    if (placeId === null) return refused(badInput('placeId', `Say where ${doing.name} goes: scan or choose the place.`));
    const place = await placeForGoods(transaction, placeId);
    return place.ok ? done(placeId) : place;
  }

  private async intoStores(transaction: Transaction, strip: StripDownUnderWay, doing: Doing, to: string): Promise<Coded> {
    const { unit } = strip;
    const { position, name, partId, stamped, condition, make, thickness, note } = doing;
    const id = newId();
    const said = [`Out of ${formatCode(unit.code as LabelCode)}, ${name}`, thickness === null ? '' : `${thickness} mm`, note];
    const facts = {
      partId,
      words: partId === null ? name : '',
      make,
      makerId: null,
      marks: stamped,
      condition,
      note: said.filter((words) => words !== '').join('; '),
    };
    const code = await addHarvestedLot(transaction, id, unit.ownerId, facts, { unitId: unit.id, position, thickness });
    const quantity = formatDecimal(doing.quantity);
    const taken = { thingId: id, quantity, toHolderId: to, reason: 'taken off into stores' };
    await outOfWhole(transaction, { kind: 'unit', wholeId: unit.id, ...taken });
    return { id, code, name };
  }

  private async tagged(transaction: Transaction, { unit }: StripDownUnderWay, doing: Doing, to: string): Promise<Coded> {
    const { position, partId } = doing;
    const id = newId();
    const first = await transaction.row<{ next: number }>(nextPiece, [unit.id, position]);
    const pieces = Number(formatDecimal(doing.quantity));
    const piece = first?.next ?? 1;
    const name = calledPiece(doing, piece);
    const facts = { unitId: unit.id, position, name, partId, note: noteOf(doing), piece, pieces };
    const code = await addComponent(transaction, id, unit.ownerId, facts);
    const reason = to === scrapId ? 'scrapped at the strip-down' : 'taken off';
    await outOfWhole(transaction, { kind: 'unit', wholeId: unit.id, thingId: id, quantity: '1', toHolderId: to, reason });
    return { id, code, name };
  }

  /** It has its tag already: it goes elsewhere, and what held it back holds no longer. */
  private async sentOn(transaction: Transaction, doing: Doing, { thing, holderId }: GoesOn, to: string): Promise<Coded> {
    const tag = await transaction.row<{ piece: number; code: string }>(taggedAs, [thing.id]);
    invariant(tag?.code, 'a component has a code');
    const name = calledPiece(doing, tag.piece);
    await transaction.rows(renameComponent, [thing.id, name, Number(formatDecimal(doing.quantity)), noteOf(doing)]);
    if (thing.heldBackReason !== null) await this.holds.put(transaction, thing.id, 'put right at the strip-down', false);
    if (holderId !== to)
      move(transaction, {
        thingId: thing.id,
        quantity: '1',
        fromHolderId: holderId,
        toHolderId: to,
        reason: 'put right at the strip-down',
      });
    return { id: thing.id, code: tag.code, name };
  }
}

/** A lot that was condemned after it was fitted comes out, but goes on for no job. */
async function whyNotForJob(transaction: Transaction, { fitted }: Doing): Promise<Refusal | null> {
  const lot = fitted === null ? null : await lockOf(transaction, fitted.thingId);
  return lot && whyOfNoUse(lot);
}

/** "Differential pinions, 3 together", "Differential pinions, piece 2", "Cross". */
function calledPiece({ name, of, quantity }: Doing, piece: number): string {
  if (quantity > one) return `${name}, ${formatDecimal(quantity)} together`;
  return of > one ? `${name}, piece ${piece}` : name;
}

function noteOf({ note, stamped, thickness }: Doing): string {
  return [note, stamped === '' ? '' : `stamped ${stamped}`, thickness === null ? '' : `${thickness} mm`]
    .filter((words) => words !== '')
    .join('; ');
}
