import type { PartPage } from '@corewright/contracts/catalogue';
import { Injectable, type OnModuleInit } from '@nestjs/common';
import { type FreeLot, PartStock, type StockOfPart, type StockOfParts } from '../catalogue/part-stock.js';
import { type StoredFacts, storageLifeOf, storageLifeShown, storageStop, storedFacts } from '../catalogue/storage-life.js';
import { WorkshopClock } from '../people/workshop.js';
import type { Reader } from '../platform/database/database.js';
import { listed } from '../platform/database/listed.js';
import { codeOf, placePath } from './place-words.js';

/** Free: ours, neither held back nor condemned nor missing, and claimed by nobody. */
export const isFree = 'owner_id IS NULL AND held_back_reason IS NULL AND NOT condemned AND missing_since IS NULL';

// Claims may count on what is at an outworker, so that they come to more than lies here.
const selectFree = `
  SELECT part_id AS "partId", trim_scale(sum(greatest(held - claimed, 0)))::text AS free
    FROM lots JOIN things ON things.id = thing_id
   WHERE part_id = ANY (${listed('$1')}) AND ${isFree}
   GROUP BY part_id`;
const selectFreeLots = `
  SELECT part_id AS "partId", ${codeOf('things.id')} AS code, trim_scale(held - claimed)::text AS free, source, make, condition,
         grades.rank AS "gradeRank", ${storedFacts}
    FROM lots JOIN things ON things.id = thing_id JOIN parts ON parts.id = part_id
    LEFT JOIN grades ON grades.scale = 'part' AND grades.letter = condition
   WHERE part_id = ANY (${listed('$1')}) AND ${isFree} AND held > claimed ORDER BY packet_earliest NULLS LAST, code`;

/** SQL: what is free of a part, and the places where it lies, each once. Most parts have no lot, and for these the sum of nothing is not begun. */
const stockColumns = (partId: string) => `
  CASE WHEN EXISTS (SELECT 1 FROM lots WHERE lots.part_id = ${partId}) THEN coalesce((
    SELECT trim_scale(sum(greatest(held - claimed, 0)))::text FROM lots JOIN things ON things.id = thing_id WHERE lots.part_id = ${partId} AND ${isFree}), '0') ELSE '0' END AS free,
  CASE WHEN EXISTS (SELECT 1 FROM lots WHERE lots.part_id = ${partId}) THEN coalesce((
    SELECT string_agg(DISTINCT path COLLATE "C", '; ' ORDER BY path COLLATE "C")
      FROM lots JOIN balances ON balances.thing_id = lots.thing_id JOIN places ON places.holder_id = balances.holder_id
     WHERE lots.part_id = ${partId} AND with_us AND quantity > 0), '') ELSE '' END AS places`;
const selectStock = `
  SELECT stocked.part_id AS "partId", ${stockColumns('stocked.part_id')}
    FROM (SELECT DISTINCT part_id FROM lots WHERE part_id = ANY (${listed('$1')})) AS stocked`;

/** More lots of one part than a page shows: those that can be used come first. */
const lotsMax = 500;

const selectLots = `
  WITH first_lots AS (
    SELECT thing_id FROM lots JOIN things ON things.id = thing_id
     WHERE part_id = $1 AND held > 0
     ORDER BY NOT condemned AND held_back_reason IS NULL AND missing_since IS NULL AND held > claimed DESC, packet_earliest NULLS LAST, thing_id LIMIT ${lotsMax})
  SELECT things.id, ${codeOf('things.id')} AS code, trim_scale(held)::text AS held, trim_scale(claimed)::text AS claimed, source, make,
         ${storedFacts}, held_back_reason AS "heldBack", condemned, missing_since IS NOT NULL AS "isMissing", owners.name AS owner,
         coalesce((SELECT string_agg(${placePath('balances.holder_id')}, '; ' ORDER BY quantity DESC, balances.holder_id)
           FROM balances WHERE thing_id = things.id AND with_us AND quantity > 0), '') AS places
    FROM first_lots JOIN lots ON lots.thing_id = first_lots.thing_id JOIN things ON things.id = lots.thing_id
    JOIN parts ON parts.id = part_id LEFT JOIN parties AS owners ON owners.id = owner_id
   ORDER BY packet_earliest NULLS LAST, code`;

type LotOfPart = PartPage['lots'][number];

/** Tells the catalogue what stock its parts have. */
@Injectable()
export class StockQueries implements StockOfParts, OnModuleInit {
  constructor(
    private readonly partStock: PartStock,
    private readonly clock: WorkshopClock,
  ) {}

  readonly columns = stockColumns;

  onModuleInit(): void {
    this.partStock.registerStock(this);
  }

  async freeOf(reader: Reader, partIds: readonly string[]): Promise<ReadonlyMap<string, string>> {
    const rows = await reader.rows<{ partId: string; free: string }>(selectFree, [partIds]);
    return new Map(rows.map((row) => [row.partId, row.free]));
  }

  async stockOf(reader: Reader, partIds: readonly string[]): Promise<ReadonlyMap<string, StockOfPart>> {
    const rows = await reader.rows<StockOfPart & { partId: string }>(selectStock, [partIds]);
    return new Map(rows.map(({ partId, ...stock }) => [partId, stock]));
  }

  async freeLotsOf(reader: Reader, partIds: readonly string[]): Promise<FreeLot[]> {
    const [today, rows] = await Promise.all([
      this.clock.today(reader),
      reader.rows<Omit<FreeLot, 'storageStop'> & StoredFacts & Record<string, unknown>>(selectFreeLots, [partIds]),
    ]);
    return rows.map((row) => ({ ...row, storageStop: storageStop(storageLifeOf(row, today)) }));
  }

  async lotsOf(reader: Reader, partId: string): Promise<LotOfPart[]> {
    const today = await this.clock.today(reader);
    const rows = await reader.rows<StoredFacts & Omit<LotOfPart, 'packet' | 'storageLife'>>(selectLots, [partId]);
    return rows.map((row) => ({
      id: row.id,
      code: row.code,
      held: row.held,
      claimed: row.claimed,
      source: row.source,
      make: row.make,
      packet: row.packetRead,
      places: row.places,
      heldBack: row.heldBack,
      condemned: row.condemned,
      isMissing: row.isMissing,
      storageLife: storageLifeShown(storageLifeOf(row, today)),
      owner: row.owner,
    }));
  }
}
