import type { PutLotRight } from '@corewright/contracts/regrouping';
import type { Thing } from '@corewright/contracts/stores';
import { decimalFrom, zero } from '@corewright/quantities/decimal';
import { readPacketDate } from '@corewright/quantities/packet-date';
import { Injectable } from '@nestjs/common';
import { makerNamed } from '../../catalogue/maker.queries.js';
import { partFacts } from '../../catalogue/part.queries.js';
import { WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { badInput, changedMeanwhile, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { lockOf } from '../ledger.js';
import { correctLot, type LotFacts } from '../new-things.js';
import { tellOthers } from '../tell-others.js';
import { type ThingRow, thingRow } from '../thing.queries.js';
import { ThingPage } from '../thing-page.js';
import { differences } from './decide-merge.js';
import { lotToMerge } from './lot-to-merge.js';

const splitOff = "SELECT 1 AS there FROM lot_regroupings WHERE to_lot_id = $1 AND kind = 'split'";
// A container was opened, and used, as one of its part.
const wasOpened = 'SELECT 1 AS there FROM container_events WHERE thing_id = $1 LIMIT 1';
const rowAsItIs = 'SELECT to_jsonb(lots) AS was FROM lots WHERE thing_id = $1';
const insertCorrection = `
  INSERT INTO lot_corrections (id, command_key, lot_id, was, words, why, person_id) VALUES ($1, $2, $3, $4, $5, $6, $7)`;

/** What was split off was found to be of another maker, another part, in another state: what it is said to be is put right. */
@Injectable()
export class PutLotRightHandler {
  constructor(
    private readonly clock: WorkshopClock,
    private readonly page: ThingPage,
  ) {}

  async handle(transaction: Transaction, lotId: string, input: PutLotRight): Promise<Result<Thing>> {
    const thing = await lockOf(transaction, lotId);
    if (thing === null) return refused(notFound('That thing'));
    const { versionSeen, key, person } = transaction.command;
    if (versionSeen !== null && versionSeen !== thing.version)
      return refused(changedMeanwhile(await this.page.of(transaction, lotId)));
    if ((await transaction.row(splitOff, [lotId])) === null) return refused(hasItsRow);
    const [row, was, before, opened] = await Promise.all([
      thingRow(transaction, lotId),
      transaction.row<{ was: unknown }>(rowAsItIs, [lotId]),
      lotToMerge(transaction, thing),
      transaction.row(wasOpened, [lotId]),
    ]);
    invariant(row && was, 'what was split off is a lot');
    const facts = await this.read(transaction, row, input);
    if (!facts.ok) return facts;
    const isRelied = decimalFrom(thing.claimed) > zero || before.elsewhere.length > 0 || before.isOfKeptSet || opened !== null;
    if (isRelied && facts.value.partId !== row.partId) return refused(partStays);
    await correctLot(transaction, lotId, facts.value);
    const changed = differences(before.facts, (await lotToMerge(transaction, thing)).facts);
    const others = row.words === input.words ? [] : [{ what: 'words', one: row.words || 'none', other: input.words || 'none' }];
    const words = [...changed, ...others].map(({ what, one, other }) => `${what}: ${one}, now ${other}`).join('; ');
    if (words === '') return refused(nothingNew);
    transaction.send(insertCorrection, [newId(), key, lotId, JSON.stringify(was.was), words, input.why, person.id]);
    for (const partId of [row.partId, facts.value.partId]) if (partId !== null) transaction.news(`part:${partId}`);
    await tellOthers(transaction, lotId);
    const after = await this.page.of(transaction, lotId);
    invariant(after, 'a locked lot is in the books');
    return done(after);
  }

  /** What stays is how it came: its source, and what was noted of it. */
  private async read(transaction: Transaction, row: ThingRow, input: PutLotRight): Promise<Result<LotFacts>> {
    const { partId, words, make, makerName, marks, condition, packetRead, packetCondition } = input;
    const part = partId === null ? null : await partFacts(transaction, partId);
    if (partId !== null && part === null)
      return refused(badInput('partId', 'That part is not in the books. Choose one from the list, or say in words what it is.'));
    if (part === null && words === '') return refused(badInput('words', 'Choose a part, or say in words what it is.'));
    if ((part?.unitOfMeasure ?? 'each') !== (row.unitOfMeasure ?? 'each'))
      return refused(
        badInput('partId', 'That part is measured otherwise than this lot, so that its quantity would mean something else.'),
      );
    const material = part?.material === 'rubber' ? 'rubber' : 'other';
    const packet = readPacketDate(packetRead, { material, today: await this.clock.today(transaction) });
    if (!packet.ok) return refused(badInput('packetRead', packet.error.sentence));
    const makerId = makerName === '' ? null : await makerNamed(transaction, makerName);
    const { source, note } = row;
    return done({ partId, words, source, make, makerId, marks, condition, packet: packet.value, packetCondition, note });
  }
}

const hasItsRow = {
  status: 409,
  code: 'not-split-off',
  title: 'It was not split off',
  detail:
    'What came with a load is put right in its row of Goods-in, and what came out of a unit or a box where that was recorded. Nothing was changed.',
};

const partStays = {
  status: 409,
  code: 'in-use',
  title: 'In use already',
  detail:
    'This is promised to a job, in use or of a set, so it stays the part that it is. Take that back first. Nothing was changed.',
};

const nothingNew = {
  status: 409,
  code: 'nothing-new',
  title: 'It says so already',
  detail: 'All of it is in the books just so. Nothing was changed.',
};
