import type { LabelCode } from '@corewright/codes/label-code';
import type { PacketCondition, PacketPrecision } from '@corewright/contracts/base';
import type { KeepOpeningRow, OpeningRow } from '@corewright/contracts/opening-stock';
import { type Decimal, decimalFrom, formatDecimal, subtractDecimals, zero } from '@corewright/quantities/decimal';
import { Injectable } from '@nestjs/common';
import type { JobForScan } from '../../bench/scan-facts.js';
import { WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../../platform/commands/version-seen.js';
import { badInput, changedMeanwhile, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { claimCode } from '../../scanning/code-register.js';
import { readCode } from '../../scanning/resolve-code.js';
import { correctOwner } from '../../stores/change-owner/correct-owner.js';
import { recordTypeKeyed } from '../../stores/identify-unit/record-identification.js';
import { countDifferenceId, move } from '../../stores/ledger.js';
import {
  addLot,
  addUnit,
  addUnsorted,
  correctLot,
  correctUnit,
  correctUnsorted,
  type LotFacts,
} from '../../stores/new-things.js';
import { placeForGoods } from '../../stores/place-for-goods.js';
import { thingRow } from '../../stores/thing.queries.js';
import { whyPosted } from '../decide-change.js';
import { openingRow } from '../opening-row.queries.js';
import { reasons } from '../reasons.js';
import { lockOpeningRow, type OpeningRowState, stopped } from '../row-state.js';
import { lockShelf, shelfOf, writeActs } from '../shelf/shelf-acts.js';
import { jobToTake, takeOntoJob } from './onto-job.js';
import { readShelfRow, type ShelfRow } from './read-row.js';

const thingIsThere = 'SELECT 1 AS there FROM things WHERE id = $1';
const insertRow = `
  INSERT INTO opening_rows (thing_id, place_id, job_id, quantity, standing, keyed_by, named_by, named_at)
  VALUES ($1, $2, $3, $4, $5, $6, $7, CASE WHEN $7::uuid IS NULL THEN NULL ELSE clock_timestamp() END)`;
const updateRow = 'UPDATE opening_rows SET quantity = $2, standing = $3, version = version + 1 WHERE thing_id = $1';
const bornBy = 'SELECT 1 AS there FROM codes WHERE subject_id = $1 AND code = $2';
const makerOf = 'SELECT maker_id AS "makerId" FROM lots WHERE thing_id = $1';

const kindLetters = { unit: 'U', lot: 'L', unsorted: 'X' } as const;

/** Keeps a row of a shelf: a new thing with its code, or a row that was keyed before, put right. */
@Injectable()
export class KeepOpeningRowHandler {
  constructor(private readonly clock: WorkshopClock) {}

  async handle(transaction: Transaction, rowId: string, input: KeepOpeningRow): Promise<Result<OpeningRow>> {
    const place = await placeForGoods(transaction, input.placeId);
    if (!place.ok) return place;
    const read = await readShelfRow(transaction, input);
    if (!read.ok) return read;
    const { versionSeen } = transaction.command;
    return versionSeen === null
      ? this.create(transaction, rowId, input, read.value)
      : this.putRight(transaction, rowId, input, read.value);
  }

  private async create(
    transaction: Transaction,
    rowId: string,
    input: KeepOpeningRow,
    row: ShelfRow,
  ): Promise<Result<OpeningRow>> {
    const job = input.jobId === null ? done(null) : await jobToTake(transaction, input.jobId, row);
    if (!job.ok) return job;
    await lockShelf(transaction, input.placeId);
    if (await transaction.row(thingIsThere, [rowId]))
      return refused(
        stopped('row-there', 'Keyed already', 'A thing with this id is in the books. Open the shelf anew to see how it stands.'),
      );
    const claimed = input.code === null ? done(null) : await claimCode(transaction, kindLetters[row.kind], rowId, input.code);
    if (!claimed.ok) return claimed;
    if (claimed.value !== null) transaction.news('blank-labels');
    const code = await addThing(transaction, rowId, row, claimed.value);
    const { person } = transaction.command;
    const standing = row.isNamed ? 'named' : 'to name';
    const namedBy = row.isNamed ? person.id : null;
    await transaction.rows(insertRow, [rowId, input.placeId, input.jobId, row.quantity, standing, person.id, namedBy]);
    if (job.value === null) await intoPlace(transaction, rowId, input.placeId, row.quantity);
    else await this.ontoJob(transaction, job.value, rowId, code, row.quantity);
    return answer(transaction, rowId);
  }

  private async ontoJob(
    transaction: Transaction,
    job: JobForScan,
    thingId: string,
    code: LabelCode,
    quantity: string,
  ): Promise<void> {
    const today = await this.clock.today(transaction);
    await takeOntoJob(transaction, { job, thingId, code, quantity, fromHolderId: countDifferenceId, today });
  }

  private async putRight(
    transaction: Transaction,
    rowId: string,
    input: KeepOpeningRow,
    row: ShelfRow,
  ): Promise<Result<OpeningRow>> {
    const state = await lockOpeningRow(transaction, rowId);
    if (state === null) return refused(notFound('That row'));
    if (whyNotCurrent(transaction.command, state) !== null)
      return refused(changedMeanwhile(await openingRow(transaction, rowId)));
    const posted = whyPosted(state);
    if (posted !== null) return refused(posted);
    if (kindLetters[row.kind] !== state.thing.kind)
      return refused(
        badInput(
          'kind',
          'It has its code by now, and a unit, a lot and a box bear different ones. Strike it out and key it anew.',
        ),
      );
    if (input.placeId !== state.placeId)
      return refused(badInput('placeId', 'A row stays with the shelf where it was keyed. Put it away elsewhere with a scan.'));
    if (input.code !== null && !(await bears(transaction, rowId, input.code)))
      return refused(stopped('label-stays', 'It has a label already', 'What it is on stays. Print it again where it was lost.'));
    if (row.ownerId !== state.thing.ownerId && row.ownerId !== null && state.costMinor !== null)
      return refused(
        badInput('ownerName', 'A cost of ours stands in the books for it. Put that right at the desk before it is a customer’s.'),
      );
    const on = await this.clock.today(transaction);
    await correctOwner(transaction, state.thing, { to: row.ownerId, on, where: 'in its row at the shelf' });
    await correctThing(transaction, rowId, row);
    correctCount(transaction, state, decimalFrom(row.quantity));
    const standing = state.standing === 'to name' && row.isNamed ? 'named' : state.standing;
    await transaction.rows(updateRow, [rowId, row.quantity, standing]);
    return answer(transaction, rowId);
  }
}

async function answer(transaction: Transaction, rowId: string): Promise<Result<OpeningRow>> {
  transaction.news(`thing:${rowId}`, 'stores', 'today');
  const row = await openingRow(transaction, rowId);
  invariant(row, 'a row that was just kept is there');
  return done(row);
}

/** A shelf where somebody keys is begun, also one that was done: a row that waited for the network says that it was not. */
async function intoPlace(transaction: Transaction, thingId: string, placeId: string, quantity: string): Promise<void> {
  const { state } = await shelfOf(transaction, placeId);
  if (state !== 'begun') await writeActs(transaction, [placeId], state === 'done' ? 'opened again' : 'begun');
  move(transaction, { thingId, quantity, fromHolderId: countDifferenceId, toHolderId: placeId, reason: reasons.found });
}

/** What is not asked at the shelf is said at the desk. */
function lotFacts({ partId, words, marks, note }: ShelfRow): LotFacts {
  return {
    partId,
    words,
    source: 'unknown',
    make: 'unknown',
    makerId: null,
    marks,
    condition: '',
    packet: { asRead: '', precision: 'unknown', earliest: null, latest: null },
    packetCondition: 'none',
    note,
  };
}

async function addThing(transaction: Transaction, id: string, row: ShelfRow, bears: LabelCode | null): Promise<LabelCode> {
  const { words, marks, note, ownerId } = row;
  if (row.kind === 'lot') return addLot(transaction, id, ownerId, lotFacts(row), bears);
  if (row.kind === 'unsorted') return addUnsorted(transaction, id, ownerId, { words, pieceCount: row.pieceCount, note }, bears);
  const code = await addUnit(transaction, id, ownerId, { unitTypeId: row.unitTypeId, words, grade: '', marks, note }, bears);
  if (row.unitTypeId !== null) await typeKeyed(transaction, id, null, row);
  return code;
}

/** Facts that only the desk knows stay as they are. */
async function correctThing(transaction: Transaction, id: string, row: ShelfRow): Promise<void> {
  const before = await thingRow(transaction, id);
  invariant(before, 'a locked thing is there');
  const { words, marks, note } = row;
  if (row.kind === 'unsorted') return correctUnsorted(transaction, id, { words, pieceCount: row.pieceCount, note });
  if (row.kind === 'unit') {
    await correctUnit(transaction, id, { unitTypeId: row.unitTypeId, words, grade: before.grade, marks, note });
    if (row.unitTypeId !== before.unitTypeId) await typeKeyed(transaction, id, before.unitTypeId, row);
    return;
  }
  const maker = await transaction.row<{ makerId: string | null }>(makerOf, [id]);
  const packet = {
    asRead: before.packetRead,
    precision: before.packetPrecision as PacketPrecision,
    earliest: before.packetEarliest,
    latest: before.packetLatest,
  };
  await correctLot(transaction, id, {
    ...lotFacts(row),
    source: before.source,
    make: before.make,
    makerId: maker?.makerId ?? null,
    condition: before.condition,
    packet,
    packetCondition: before.packetCondition as PacketCondition,
  });
}

async function typeKeyed(transaction: Transaction, unitId: string, before: string | null, row: ShelfRow): Promise<void> {
  const { unitTypeId: now, marks } = row;
  await recordTypeKeyed(transaction, { unitId, before, now, marks, where: 'it was keyed so at its shelf' });
}

async function bears(transaction: Transaction, rowId: string, keyed: string): Promise<boolean> {
  const read = readCode(keyed);
  return read.ok && (await transaction.row(bornBy, [rowId, read.value.code])) !== null;
}

function correctCount(transaction: Transaction, { id, placeId, quantity }: OpeningRowState, wanted: Decimal): void {
  const more = subtractDecimals(wanted, decimalFrom(quantity));
  if (more === zero) return;
  const [fromHolderId, toHolderId] = more > zero ? [countDifferenceId, placeId] : [placeId, countDifferenceId];
  const amount = formatDecimal(more > zero ? more : subtractDecimals(zero, more));
  move(transaction, { thingId: id, quantity: amount, fromHolderId, toHolderId, reason: reasons.corrected });
}
