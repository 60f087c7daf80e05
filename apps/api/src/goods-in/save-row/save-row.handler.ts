import type { LabelCode } from '@corewright/codes/label-code';
import type { LoadRow, RowInput } from '@corewright/contracts/goods-in';
import { type Decimal, decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import { Injectable } from '@nestjs/common';
import { gradeDecided } from '../../cores/acceptance/acceptance.queries.js';
import { WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import {
  badInput,
  changedMeanwhile,
  done,
  invariant,
  notFound,
  type Refusal,
  type Result,
  refused,
} from '../../platform/refusal.js';
import { claimCode } from '../../scanning/code-register.js';
import { readCode } from '../../scanning/resolve-code.js';
import { correctOwner } from '../../stores/change-owner/correct-owner.js';
import { ensureGoodsInPlace, goodsInPlace } from '../../stores/goods-in-place.js';
import { recordTypeKeyed } from '../../stores/identify-unit/record-identification.js';
import { holderOf, move } from '../../stores/ledger.js';
import { addLot, addUnit, addUnsorted, correctLot, correctUnit, correctUnsorted } from '../../stores/new-things.js';
import { placeForGoods } from '../../stores/place-for-goods.js';
import { type LockedLoad, lockOfLoad } from '../load.queries.js';
import { RowQueries } from '../row.queries.js';
import { type RowFacts, readRow } from '../row-facts.js';
import { keptRow, type RowState, rowOfAnotherLoad, stateOf, whyNotChanged } from '../row-state.js';
import { decideCorrection, decidePlaceMove } from './decide-correction.js';
import { decideLine } from './decide-line.js';

const thingIsThere = 'SELECT 1 AS there FROM things WHERE id = $1';
const selectUnit = 'SELECT grade, unit_type_id AS "typeId" FROM units WHERE thing_id = $1';
const linesFrom = 'SELECT position FROM load_rows WHERE load_id = $1 AND thing_id <> $2 AND position >= $3';
const insertRow = 'INSERT INTO load_rows (thing_id, load_id, position) VALUES ($1, $2, $3)';
const updateRow = 'UPDATE load_rows SET position = $2, version = version + 1 WHERE thing_id = $1';
/** Where goods-in put a thing last: by taking it in or by a place put right. Whoever put it away since is left out. */
const putInBy = `
  SELECT to_holder_id AS id FROM movements
   WHERE thing_id = $1 AND (from_holder_id = $2 OR reason = $3) ORDER BY sequence DESC LIMIT 1`;

const reasons = { takenIn: 'taken in', count: 'count corrected', place: 'place corrected' } as const;
const kindLetters = { unit: 'U', lot: 'L', unsorted: 'X' } as const;

/** Keeps a row of a load: a new thing with its code, or a row that was keyed before, put right. */
@Injectable()
export class SaveRowHandler {
  constructor(
    private readonly rows: RowQueries,
    private readonly clock: WorkshopClock,
  ) {}

  async handle(transaction: Transaction, loadId: string, rowId: string, input: RowInput): Promise<Result<LoadRow>> {
    const load = await lockOfLoad(transaction, loadId);
    if (load === null) return refused(notFound('That load'));
    const kept = await keptRow(transaction, rowId);
    const place = input.placeId === null ? done(null) : await placeForGoods(transaction, input.placeId);
    if (kept === null) return this.create(transaction, load, rowId, input, place);
    const why = whyNotChanged(kept, load, transaction.command.versionSeen);
    if (why === 'changed-meanwhile') return refused(changedMeanwhile(await this.rows.one(transaction, rowId)));
    if (why !== null) return refused(why);
    if (!place.ok) return place;
    const state = await stateOf(transaction, kept, load);
    const labelled = input.code === null ? null : await whyLabelStays(transaction, rowId, input.code);
    return labelled === null ? this.edit(transaction, load, state, input) : refused(labelled);
  }

  private async create(
    transaction: Transaction,
    load: LockedLoad,
    rowId: string,
    input: RowInput,
    place: Result<unknown>,
  ): Promise<Result<LoadRow>> {
    if (transaction.command.versionSeen !== null) return refused(notFound('That row'));
    if (await transaction.row(thingIsThere, [rowId])) return refused(rowOfAnotherLoad);
    if (!place.ok) return place;
    const read = await readRow(transaction, input, await this.clock.today(transaction));
    if (!read.ok) return read;
    const claimed = input.code === null ? done(null) : await claimCode(transaction, kindLetters[input.kind], rowId, input.code);
    if (!claimed.ok) return claimed;
    if (claimed.value !== null) transaction.news('blank-labels');
    await addThing(transaction, rowId, read.value, claimed.value);
    await transaction.rows(insertRow, [rowId, load.id, await freeLine(transaction, load.id, rowId, input.position)]);
    move(transaction, {
      thingId: rowId,
      quantity: read.value.quantity,
      fromHolderId: holderOf(transaction, load.sellerId, 'supplier'),
      toHolderId: input.placeId ?? (await ensureGoodsInPlace(transaction)),
      reason: reasons.takenIn,
    });
    return this.answer(transaction, load, rowId);
  }

  private async edit(transaction: Transaction, load: LockedLoad, state: RowState, input: RowInput): Promise<Result<LoadRow>> {
    const unit = await transaction.row<UnitBefore>(selectUnit, [state.id]);
    const today = await this.clock.today(transaction);
    const read = await readRow(transaction, input, today, unit?.grade);
    if (!read.ok) return read;
    const fault = await whyFactsStay(transaction, state, read.value);
    if (fault !== null) return refused(fault);
    await correctOwner(transaction, state.thing, { to: read.value.ownerId, on: today, where: 'in its row at goods-in' });
    await correctThing(transaction, state.id, read.value);
    if (unit !== null) await recordType(transaction, state.id, unit, read.value);
    const putIn = await transaction.row<{ id: string }>(putInBy, [state.id, load.sellerId, reasons.place]);
    invariant(putIn, 'a row of a load was taken in');
    const counted = this.correctCount(transaction, load, state, decimalFrom(read.value.quantity), putIn.id);
    if (!counted.ok) return counted;
    const placed = await this.correctPlace(transaction, load, state, input.placeId, putIn.id);
    if (!placed.ok) return placed;
    const line =
      input.position === state.position ? state.position : await freeLine(transaction, load.id, state.id, input.position);
    await transaction.rows(updateRow, [state.id, line]);
    return this.answer(transaction, load, state.id);
  }

  private correctCount(
    transaction: Transaction,
    load: LockedLoad,
    state: RowState,
    wanted: Decimal,
    putIn: string,
  ): Result<null> {
    const { received, shelves } = state;
    const steps = decideCorrection({ sellerId: load.sellerId, received, wanted, shelves, putIn });
    if (!steps.ok) return steps;
    for (const { quantity, ...way } of steps.value)
      move(transaction, { thingId: state.id, quantity: formatDecimal(quantity), ...way, reason: reasons.count });
    return done(null);
  }

  private async correctPlace(
    transaction: Transaction,
    load: LockedLoad,
    state: RowState,
    keyed: string | null,
    putIn: string,
  ): Promise<Result<null>> {
    const row = await keptRow(transaction, state.id);
    invariant(row, 'a locked row is there');
    const { shelves } = await stateOf(transaction, row, load);
    const step = decidePlaceMove({ keyed, putIn, goodsIn: await goodsInPlace(transaction), shelves });
    if (!step.ok) return step;
    if (step.value !== null) {
      const toHolderId = step.value.to ?? (await ensureGoodsInPlace(transaction));
      const quantity = formatDecimal(step.value.quantity);
      move(transaction, { thingId: state.id, quantity, fromHolderId: putIn, toHolderId, reason: reasons.place });
    }
    return done(null);
  }

  private async answer(transaction: Transaction, load: LockedLoad, rowId: string): Promise<Result<LoadRow>> {
    transaction.news(`load:${load.id}`, 'loads', `thing:${rowId}`, 'today');
    const row = await this.rows.one(transaction, rowId);
    invariant(row, 'a row that was just kept is there');
    return done(row);
  }
}

interface UnitBefore extends Record<string, unknown> {
  grade: string;
  typeId: string | null;
}

/** A row that is said to be something else than before: who said so, and by which marks, stays on the record. */
async function recordType(
  transaction: Transaction,
  unitId: string,
  { typeId: before }: UnitBefore,
  row: RowFacts,
): Promise<void> {
  if (row.kind !== 'unit' || row.facts.unitTypeId === before) return;
  const { unitTypeId: now, marks } = row.facts;
  await recordTypeKeyed(transaction, { unitId, before, now, marks, where: 'it was keyed so in its row at goods-in' });
}

async function addThing(transaction: Transaction, id: string, row: RowFacts, bears: LabelCode | null): Promise<void> {
  if (row.kind === 'unit') await addUnit(transaction, id, row.ownerId, row.facts, bears);
  else if (row.kind === 'lot') await addLot(transaction, id, row.ownerId, row.facts, bears);
  else await addUnsorted(transaction, id, row.ownerId, row.facts, bears);
}

async function correctThing(transaction: Transaction, id: string, row: RowFacts): Promise<void> {
  if (row.kind === 'unit') await correctUnit(transaction, id, row.facts);
  else if (row.kind === 'lot') await correctLot(transaction, id, row.facts);
  else await correctUnsorted(transaction, id, row.facts);
}

function gradeStays({ grade, by }: { grade: string; by: string }): Refusal {
  const words = `${by} decided grade ${grade} by its acceptance sheet. Key ${grade}; to decide otherwise, fill in another sheet on its page.`;
  return badInput('grade', words);
}

interface Opened extends Record<string, unknown> {
  named: number;
}

/** A box that something was taken out of: its owner is theirs too, and no fewer were in it than were named. */
const openedBox = 'SELECT pieces_named_of(box_id)::integer AS named FROM box_takings WHERE box_id = $1 GROUP BY box_id';
const selectPart = 'SELECT part_id AS "partId" FROM lots WHERE thing_id = $1';

/** What others rely on is not changed under them: the kind, the owner and the part of what is promised or in use. */
async function whyFactsStay(transaction: Transaction, state: RowState, row: RowFacts): Promise<Refusal | null> {
  if (kindLetters[row.kind] !== state.thing.kind) return kindStays;
  const decided = row.kind === 'unit' ? await gradeDecided(transaction, state.id) : null;
  if (decided !== null && row.kind === 'unit' && row.facts.grade !== decided.grade) return gradeStays(decided);
  const opened = row.kind === 'unsorted' ? await transaction.row<Opened>(openedBox, [state.id]) : null;
  if (opened !== null && row.kind === 'unsorted' && row.facts.pieceCount !== null && row.facts.pieceCount < opened.named)
    return fewerThanNamed(opened.named);
  if (row.ownerId !== state.thing.ownerId && (await isOwnerByAct(transaction, state))) return ownerByAct;
  const isRelied = Number(state.thing.claimed) > 0 || state.usedElsewhere || opened !== null;
  if (!isRelied) return null;
  if (row.ownerId !== state.thing.ownerId) return reliedOn('owner');
  if (row.kind !== 'lot') return null;
  const before = await transaction.row<{ partId: string | null }>(selectPart, [state.id]);
  return before?.partId === row.facts.partId ? null : reliedOn('part');
}

const changedByAct = "SELECT 1 AS there FROM owner_changes WHERE thing_id = $1 AND how <> 'put right' LIMIT 1";

/** Somebody bought it, gave it or keeps it for its owner since: that is no slip of the keys. */
async function isOwnerByAct(transaction: Transaction, { id, thing }: RowState): Promise<boolean> {
  return thing.condemned || thing.keptForOwner || (await transaction.row(changedByAct, [id])) !== null;
}

const ownerByAct: Refusal = {
  status: 409,
  code: 'owner-stays',
  title: 'Its owner stays',
  detail:
    'Whose this is was settled by an act that is on the record. Change it on its own page: say that it was bought, given or is another’s. Nothing was changed.',
};

const bornBy = 'SELECT 1 AS there FROM codes WHERE subject_id = $1 AND code = $2';

/** A row that is sent again says the label that it claimed; another one is not taken. */
async function whyLabelStays(transaction: Transaction, rowId: string, keyed: string): Promise<Refusal | null> {
  const read = readCode(keyed);
  if (!read.ok) return read.error;
  const isItsOwn = (await transaction.row(bornBy, [rowId, read.value.code])) !== null;
  return isItsOwn ? null : labelStays;
}

const labelStays: Refusal = {
  status: 409,
  code: 'label-stays',
  title: 'This row has a label already',
  detail: 'What it is on stays. Print it again where it was lost. Nothing was changed.',
};

const kindStays: Refusal = {
  status: 422,
  code: 'kind-stays',
  title: 'The kind of a row stays',
  detail: 'This row has its code by now, and a unit, a lot and a box bear different codes. Strike it out and key a new row.',
};

function fewerThanNamed(named: number): Refusal {
  return badInput(
    'pieceCount',
    `${named} pieces were named out of this box, so no fewer were in it. Key ${named} or more, or leave it empty.`,
  );
}

function reliedOn(what: 'owner' | 'part'): Refusal {
  return {
    status: 409,
    code: 'in-use',
    title: 'In use already',
    detail: `This is promised to a job or in use, so its ${what} stays as it is. Take it back first. Nothing was changed.`,
  };
}

async function freeLine(transaction: Transaction, loadId: string, rowId: string, wanted: number): Promise<number> {
  const rows = await transaction.rows<{ position: number }>(linesFrom, [loadId, rowId, wanted]);
  return decideLine(wanted, new Set(rows.map((row) => row.position)));
}
