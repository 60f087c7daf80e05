import type { DeskRow, NameOpeningRow } from '@corewright/contracts/opening-stock';
import { decimalFrom, zero } from '@corewright/quantities/decimal';
import { Injectable } from '@nestjs/common';
import { gradeDecided } from '../../cores/acceptance/acceptance.queries.js';
import { readLot, readUnit } from '../../goods-in/row-facts.js';
import { WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { recordTypeKeyed } from '../../stores/identify-unit/record-identification.js';
import { correctLot, correctUnit, correctUnsorted } from '../../stores/new-things.js';
import { type OpeningRowState, stopped } from '../row-state.js';
import { atDesk, finished } from './at-desk.js';
import { CostOfRow } from './cost-of-row.js';

type Lot = Extract<NameOpeningRow, { kind: 'lot' }>;
type Unit = Extract<NameOpeningRow, { kind: 'unit' }>;
type Box = Extract<NameOpeningRow, { kind: 'unsorted' }>;

const kindLetters = { unit: 'U', lot: 'L', unsorted: 'X' } as const;
const selectPart = 'SELECT part_id AS "partId" FROM lots WHERE thing_id = $1';
const selectUnit = 'SELECT grade, unit_type_id AS "typeId" FROM units WHERE thing_id = $1';
const askNoMore = 'UPDATE lots SET ask_around = false WHERE thing_id = $1';
const namedOf = 'SELECT pieces_named_of($1)::integer AS named';
const markNamed = `
  UPDATE opening_rows SET standing = 'named', named_by = $2, named_at = clock_timestamp(), version = version + 1 WHERE thing_id = $1`;

/** Somebody who knows says what a row is, and perhaps what it cost. What was used of it meanwhile is what it is named, and bears its part. */
@Injectable()
export class NameRowHandler {
  constructor(
    private readonly clock: WorkshopClock,
    private readonly costs: CostOfRow,
  ) {}

  async handle(transaction: Transaction, rowId: string, input: NameOpeningRow): Promise<Result<DeskRow>> {
    const locked = await atDesk(transaction, rowId);
    if (!locked.ok) return locked;
    const state = locked.value;
    if (kindLetters[input.kind] !== state.thing.kind)
      return refused(
        badInput('kind', 'A unit, a lot and a box bear different codes. Strike it out at the shelf and key it anew.'),
      );
    const fault = await this.nameIt(transaction, state, input);
    if (fault !== null) return refused(fault);
    const cost = input.cost === null ? done(null) : await this.costs.say(transaction, state, input.cost);
    if (!cost.ok) return cost;
    await transaction.rows(markNamed, [rowId, transaction.command.person.id]);
    return finished(transaction, rowId);
  }

  private nameIt(transaction: Transaction, state: OpeningRowState, input: NameOpeningRow): Promise<Refusal | null> {
    if (input.kind === 'lot') return this.nameLot(transaction, state, input);
    if (input.kind === 'unit') return nameUnit(transaction, state, input);
    return nameBox(transaction, state, input);
  }

  private async nameLot(transaction: Transaction, state: OpeningRowState, input: Lot): Promise<Refusal | null> {
    const { kind: _kind, cost: _cost, ...said } = input;
    const lot = await readLot(transaction, { ...said, quantity: state.quantity }, await this.clock.today(transaction));
    if (!lot.ok) return lot.error;
    const before = await transaction.row<{ partId: string | null }>(selectPart, [state.id]);
    // what nobody had named may be named under whoever uses it; what was named otherwise is relied on as that
    const isOther = before !== null && before.partId !== null && before.partId !== input.partId;
    if (isOther && isRelied(state))
      return stopped(
        'in-use',
        'In use as another part',
        'Some of it is promised or in use as the part that it was named. Take that back first.',
      );
    await correctLot(transaction, state.id, lot.value.facts);
    await transaction.rows(askNoMore, [state.id]);
    return null;
  }
}

function isRelied({ thing, elsewhere }: OpeningRowState): boolean {
  return decimalFrom(thing.claimed) > zero || elsewhere.some(({ kind }) => kind !== 'place');
}

async function nameUnit(transaction: Transaction, state: OpeningRowState, input: Unit): Promise<Refusal | null> {
  const { kind: _kind, cost: _cost, ...said } = input;
  const before = await transaction.row<{ grade: string; typeId: string | null }>(selectUnit, [state.id]);
  const unit = await readUnit(transaction, said, before?.grade ?? '');
  if (!unit.ok) return unit.error;
  const decided = await gradeDecided(transaction, state.id);
  if (decided !== null && decided.grade !== unit.value.grade)
    return badInput(
      'grade',
      `${decided.by} decided grade ${decided.grade} by its acceptance sheet. Key ${decided.grade}, or leave it to another sheet.`,
    );
  await correctUnit(transaction, state.id, unit.value);
  const { unitTypeId: now, marks } = unit.value;
  const was = before?.typeId ?? null;
  if (now !== was)
    await recordTypeKeyed(transaction, {
      unitId: state.id,
      before: was,
      now,
      marks,
      where: 'it was named so from its photographs',
    });
  return null;
}

async function nameBox(transaction: Transaction, state: OpeningRowState, input: Box): Promise<Refusal | null> {
  const { words, pieceCount, note } = input;
  const named = (await transaction.row<{ named: number }>(namedOf, [state.id]))?.named ?? 0;
  if (pieceCount !== null && pieceCount < named)
    return badInput(
      'pieceCount',
      `${named} pieces were named out of this box, so no fewer were in it. Key ${named} or more, or leave it empty.`,
    );
  await correctUnsorted(transaction, state.id, { words, pieceCount, note });
  return null;
}
