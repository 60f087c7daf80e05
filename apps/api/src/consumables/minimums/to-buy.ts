import type { ToBuy, ToBuyRow } from '@corewright/contracts/consumables';
import { type Decimal, decimalFrom, formatDecimal, sumDecimals } from '@corewright/quantities/decimal';
import { Injectable } from '@nestjs/common';
import { PartStock } from '../../catalogue/part-stock.js';
import { WorkshopClock } from '../../people/workshop.js';
import { Database } from '../../platform/database/database.js';
import { allConsumables, type Full, fullContainersOf, type Opened, openContainersOf } from '../consumable.queries.js';
import { whatToBuy } from './what-to-buy.js';

/** Of the preferred supplier, else of whoever it was ordered from last. */
const selectWatched = `
  SELECT parts.id AS "partId", parts.name, coalesce((SELECT number FROM part_numbers WHERE part_id = parts.id AND is_main), '') AS number,
         unit_of_measure AS "unitOfMeasure", minimum, up_to AS "upTo", part_minimums.note, seller.id AS "supplierId", seller.name AS "supplierName",
         (SELECT coalesce(sum(quantity - quantity_received - claimed), 0) FROM expected_receipts
           WHERE expected_receipts.part_id = parts.id AND NOT called_off AND for_job_id IS NULL AND quantity_received < quantity) AS "onOrder"
    FROM part_minimums JOIN parts ON parts.id = part_minimums.part_id
    LEFT JOIN parties AS seller ON seller.id = coalesce(part_minimums.supplier_id,
      (SELECT supplier_id FROM expected_receipts WHERE expected_receipts.part_id = parts.id AND NOT called_off ORDER BY id DESC LIMIT 1))
   ORDER BY parts.name, parts.id`;

interface WatchedRow extends Record<string, unknown> {
  partId: string;
  name: string;
  number: string;
  unitOfMeasure: string;
  minimum: string;
  upTo: string;
  note: string;
  supplierId: string | null;
  supplierName: string | null;
  onOrder: string;
}

/** What is below its minimum, and what is past its use-by date. */
@Injectable()
export class WhatToBuy {
  constructor(
    private readonly database: Database,
    private readonly clock: WorkshopClock,
    private readonly partStock: PartStock,
  ) {}

  async list(): Promise<ToBuy> {
    const on = await this.clock.today();
    const [watched, consumables] = await Promise.all([
      this.database.rows<WatchedRow>(selectWatched),
      allConsumables(this.database),
    ]);
    const ids = consumables.map(({ partId }) => partId);
    const [open, full, free] = await Promise.all([
      openContainersOf(this.database, ids, on),
      fullContainersOf(this.database, ids, on),
      this.partStock.freeOf(
        this.database,
        watched.map(({ partId }) => partId),
      ),
    ]);
    const containers = new Map(consumables.map(({ partId, container }) => [partId, container]));
    const rows = watched.flatMap((row) => {
      const container = containers.get(row.partId) ?? null;
      const ofPart = <Each extends { partId: string }>(list: readonly Each[]) =>
        list.filter(({ partId }) => partId === row.partId);
      const have = container === null ? decimalFrom(free.get(row.partId) ?? '0') : fullCount(ofPart(full));
      const shown = rowOf(row, container, have, { open: ofPart(open), full: ofPart(full) });
      return shown.buy === '0' ? [] : [{ row, shown }];
    });
    return { on, suppliers: bySupplier(rows), pastUseBy: pastUseBy(open, full), watched: watched.length };
  }
}

/** The full containers that may be used. */
export function fullCount(full: readonly Full[]): Decimal {
  return sumDecimals(full.map(({ free }) => decimalFrom(free)));
}

function rowOf(
  row: WatchedRow,
  container: string | null,
  have: Decimal,
  { open, full }: { open: readonly Opened[]; full: readonly Full[] },
): ToBuyRow {
  const [onOrder, minimum, upTo] = [row.onOrder, row.minimum, row.upTo].map(decimalFrom) as [Decimal, Decimal, Decimal];
  const { partId: id, name, number, unitOfMeasure, note } = row;
  return {
    part: { id, name, number, unitOfMeasure },
    container,
    have: formatDecimal(have),
    onOrder: formatDecimal(onOrder),
    open: open.length,
    pastUseBy: [...open, ...full].filter(({ useBy }) => useBy.past).length,
    minimum: formatDecimal(minimum),
    upTo: formatDecimal(upTo),
    buy: formatDecimal(whatToBuy({ have, onOrder, minimum, upTo })),
    note,
  };
}

/** By the firm, in the order of their names; what nobody is known to sell comes last. */
function bySupplier(rows: readonly { row: WatchedRow; shown: ToBuyRow }[]): ToBuy['suppliers'] {
  const firms = new Map<string | null, ToBuy['suppliers'][number]>();
  for (const { row, shown } of rows) {
    const { supplierId, supplierName } = row;
    const firm = firms.get(supplierId) ?? {
      supplier: supplierId === null ? null : { id: supplierId, name: supplierName ?? '' },
      rows: [],
    };
    firm.rows.push(shown);
    firms.set(supplierId, firm);
  }
  return [...firms.values()].toSorted(
    (a, b) =>
      Number(a.supplier === null) - Number(b.supplier === null) || (a.supplier?.name ?? '').localeCompare(b.supplier?.name ?? ''),
  );
}

function pastUseBy(open: readonly Opened[], full: readonly Full[]): ToBuy['pastUseBy'] {
  return [...open.map((each) => ({ each, isOpen: true })), ...full.map((each) => ({ each, isOpen: false }))]
    .filter(({ each }) => each.useBy.past)
    .map(({ each, isOpen }) => ({ thing: each.thing, open: isOpen, words: `${each.where}. ${each.useBy.words}` }));
}
