import type {
  ConsumableOfPart,
  ConsumablePage,
  ConsumableSettings,
  ContainerPage,
  JobConsumables,
} from '@corewright/contracts/consumables';
import { decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import { formatMoney, type Money } from '@corewright/quantities/money';
import { Injectable } from '@nestjs/common';
import { useByOf } from '../catalogue/use-by.js';
import { oursOf, WorkshopClock } from '../people/workshop.js';
import type { Reader } from '../platform/database/database.js';
import { notFound, RefusalError } from '../platform/refusal.js';
import {
  allConsumables,
  type ConsumableRow,
  consumableOf,
  type Full,
  fullContainersOf,
  type Opened,
  openContainersOf,
  packetUseByOf,
} from './consumable.queries.js';
import { minimumOf } from './minimums/keep-minimum.js';
import { fullCount } from './minimums/to-buy.js';
import { type FlatCharge, standingFlatCharges } from './settings/flat-charges.queries.js';
import { consumablesOfJob, containerCharged } from './uses/job-consumables.queries.js';

const partThere = 'SELECT 1 AS there FROM parts WHERE id = $1';
const jobThere = 'SELECT 1 AS there FROM jobs WHERE id = $1';
const lotOf = `
  SELECT part_id AS "partId", held > 0 AS held, EXISTS (SELECT FROM open_containers WHERE open_containers.thing_id = lots.thing_id) AS open,
         (SELECT opened_on FROM container_events WHERE container_events.thing_id = lots.thing_id AND kind = 'opened' ORDER BY sequence DESC LIMIT 1) AS "openedOn",
         (SELECT coalesce(sum(uses), 0)::int FROM consumable_uses AS used WHERE used.thing_id = lots.thing_id
             AND NOT EXISTS (SELECT FROM consumable_uses AS later WHERE later.puts_right_id = used.id)) AS uses
    FROM lots JOIN things ON things.id = lots.thing_id WHERE lots.thing_id = $1`;
const eventsOf = `
  SELECT container_events.recorded_at AS at, coalesce(people.display_name, '') AS by, kind, opened_on AS "openedOn", words
    FROM container_events LEFT JOIN people ON people.id = person_id WHERE thing_id = $1 ORDER BY sequence DESC LIMIT 50`;

interface LotRow extends Record<string, unknown> {
  partId: string | null;
  held: boolean;
  open: boolean;
  openedOn: string | null;
  uses: number;
}

/** What the screens show of consumables. Amounts of money are told to those alone who keep the books. */
@Injectable()
export class ConsumablePages {
  constructor(private readonly clock: WorkshopClock) {}

  async all(reader: Reader, mayKnowCosts: boolean): Promise<ConsumablePage[]> {
    return this.pagesOf(reader, await allConsumables(reader), mayKnowCosts);
  }

  /** @throws RefusalError where the part is not in the books */
  async ofPart(reader: Reader, partId: string, mayKnowCosts: boolean): Promise<ConsumableOfPart> {
    const [part, consumable, minimum] = await Promise.all([
      reader.row(partThere, [partId]),
      consumableOf(reader, partId),
      minimumOf(reader, partId),
    ]);
    if (part === null) throw new RefusalError(notFound('This part'));
    const pages = consumable === null || consumable.withdrawn ? [] : await this.pagesOf(reader, [consumable], mayKnowCosts);
    return { consumable: pages[0] ?? null, minimum };
  }

  /** @throws RefusalError where there is no such lot */
  async ofLot(reader: Reader, thingId: string, mayKnowCosts: boolean): Promise<ContainerPage> {
    const [lot, today] = await Promise.all([reader.row<LotRow>(lotOf, [thingId]), this.clock.today(reader)]);
    if (lot === null) throw new RefusalError(notFound('That lot'));
    const row = lot.partId === null ? null : await consumableOf(reader, lot.partId);
    const state = lot.open && lot.held ? 'open' : lot.held ? 'full' : 'gone';
    const none = {
      consumable: null,
      state,
      packetUseBy: null,
      useBy: null,
      events: [],
      uses: 0,
      chargedInHundred: null,
    } as const;
    if (row === null || row.withdrawn) return { ...none, events: [] };
    const [[page], packetUseBy, events, charged] = await Promise.all([
      this.pagesOf(reader, [row], mayKnowCosts),
      packetUseByOf(reader, thingId),
      reader.rows<ContainerPage['events'][number] & { openedOn: string | null }>(eventsOf, [thingId]),
      containerCharged(reader, thingId),
    ]);
    return {
      consumable: page?.settings ?? null,
      state,
      packetUseBy,
      useBy: useByOf({ packetUseBy, isOpen: lot.open, openedOn: lot.openedOn, keepsDays: row.keepsDays }, today),
      events: events.map(({ openedOn, words, ...event }) => ({
        ...event,
        words: event.kind === 'opened' && openedOn === null ? 'found open, nobody knows since when' : words,
      })),
      uses: lot.uses,
      chargedInHundred: row.usesPerContainer === null ? null : charged,
    };
  }

  /** @throws RefusalError where there is no such job */
  async ofJob(reader: Reader, jobId: string, mayKnowCosts: boolean): Promise<JobConsumables> {
    if ((await reader.row(jobThere, [jobId])) === null) throw new RefusalError(notFound('This job'));
    const [{ rows, sum, unknown }, currency, consumables] = await Promise.all([
      consumablesOfJob(reader, jobId),
      oursOf(reader),
      allConsumables(reader),
    ]);
    const byUse = consumables.filter(({ charged }) => charged === 'by use');
    const { open, full } = await this.containersOf(reader, byUse);
    const money = (amount: Money | null) => (amount === null || !mayKnowCosts ? null : formatMoney(amount, currency));
    return {
      rows: rows.map((row) => ({ ...row, amount: money(row.amount) })),
      currency,
      sum: money(sum),
      unknown,
      choices: byUse.map(({ partId, name, container }) => ({
        part: { id: partId, name },
        container,
        open: open.filter((each) => each.partId === partId).length,
        full: formatDecimal(fullCount(full.filter((each) => each.partId === partId))),
      })),
    };
  }

  private async containersOf(reader: Reader, rows: readonly ConsumableRow[]): Promise<{ open: Opened[]; full: Full[] }> {
    const [ids, today] = [rows.map(({ partId }) => partId), await this.clock.today(reader)];
    const [open, full] = await Promise.all([openContainersOf(reader, ids, today), fullContainersOf(reader, ids, today)]);
    return { open, full };
  }

  private async pagesOf(reader: Reader, rows: readonly ConsumableRow[], mayKnowCosts: boolean): Promise<ConsumablePage[]> {
    const [{ open, full }, flat] = await Promise.all([
      this.containersOf(reader, rows),
      standingFlatCharges(
        reader,
        rows.map(({ partId }) => partId),
      ),
    ]);
    return rows.map((row) => {
      const ofPart = <Each extends { partId: string }>(list: readonly Each[]) =>
        list.filter(({ partId }) => partId === row.partId);
      const fulls = ofPart(full);
      return {
        settings: settingsOf(row, ofPart(flat), mayKnowCosts),
        open: ofPart(open).map(({ partId: _part, ...each }) => each),
        full: fulls.map(({ partId: _part, free: _free, ...each }) => ({
          ...each,
          quantity: formatDecimal(decimalFrom(each.quantity)),
        })),
        fullCount: formatDecimal(fullCount(fulls)),
      };
    });
  }
}

function settingsOf(row: ConsumableRow, flat: readonly FlatCharge[], mayKnowCosts: boolean): ConsumableSettings {
  const { partId, name, number, useMinor, withdrawn: _withdrawn, ...settings } = row;
  const money = (minor: string | null) =>
    minor === null || !mayKnowCosts ? null : formatMoney(BigInt(minor) as Money, row.currency);
  return {
    ...settings,
    part: { id: partId, name, number },
    useAmount: money(useMinor),
    flat: flat.map(({ unitTypeId, unitTypeName, amountMinor, from }) => ({
      unitType: unitTypeId === null ? null : { id: unitTypeId, name: unitTypeName },
      amount: money(amountMinor),
      from,
    })),
  };
}
