import { readFileSync } from 'node:fs';
import { Injectable, type OnModuleInit } from '@nestjs/common';
import { parse } from 'csv-parse/sync';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { Database } from '../../platform/database/database.js';

// The workshop's own rows are not touched, and what has not changed is not written again.
const followDimensions = `
  INSERT INTO bearing_dimensions AS kept (designation, type, bore_mm, outside_mm, width_mm, chamfer_min_mm, source, shipped)
  SELECT designation, type, bore_mm, outside_mm, width_mm, nullif(chamfer_min_mm, '')::numeric, source, true
    FROM json_to_recordset($1::json) AS row (designation text, type text, bore_mm numeric, outside_mm numeric, width_mm numeric,
                                             chamfer_min_mm text, source text)
   ORDER BY designation COLLATE "C"
  ON CONFLICT (designation) DO UPDATE
    SET (type, bore_mm, outside_mm, width_mm, chamfer_min_mm, source)
      = (excluded.type, excluded.bore_mm, excluded.outside_mm, excluded.width_mm, excluded.chamfer_min_mm, excluded.source)
    WHERE kept.shipped AND (kept.type, kept.bore_mm, kept.outside_mm, kept.width_mm, kept.chamfer_min_mm, kept.source)
      IS DISTINCT FROM (excluded.type, excluded.bore_mm, excluded.outside_mm, excluded.width_mm, excluded.chamfer_min_mm, excluded.source)`;

const followSuffixes = `
  INSERT INTO bearing_suffixes AS kept (maker, suffix, aspect, value, words, source, shipped)
  SELECT maker, suffix, aspect, value, words, source, true
    FROM json_to_recordset($1::json) AS row (maker text, suffix text, aspect text, value text, words text, source text)
   ORDER BY maker COLLATE "C", suffix COLLATE "C"
  ON CONFLICT (maker, suffix) DO UPDATE
    SET (aspect, value, words, source) = (excluded.aspect, excluded.value, excluded.words, excluded.source)
    WHERE kept.shipped AND (kept.aspect, kept.value, kept.words, kept.source)
      IS DISTINCT FROM (excluded.aspect, excluded.value, excluded.words, excluded.source)`;

interface ShippedDimensions {
  readonly designation: string;
  readonly type: string;
  readonly bore_mm: string;
  readonly outside_mm: string;
  readonly width_mm: string;
  readonly chamfer_min_mm: string;
  readonly source: string;
}

interface ShippedSuffix {
  readonly maker: string;
  readonly suffix: string;
  readonly aspect: string;
  readonly value: string;
  readonly words: string;
  readonly source: string;
}

/**
 * Brings the shipped rows of bearings into the books at each start. Not a migration: a migration does for ever what it did once,
 * and these tables grow with the program. Two servers that start at once write the same rows in the same order.
 */
@Injectable()
export class ShippedBearings implements OnModuleInit {
  private readonly dimensions = shippedRows<ShippedDimensions>('boundary-dimensions.csv');
  private readonly suffixes = shippedRows<ShippedSuffix>('makers-suffixes.csv');
  private readonly byDesignation = new Map(this.dimensions.map((row) => [row.designation, row]));

  constructor(private readonly database: Database) {}

  async onModuleInit(): Promise<void> {
    await this.database.rows(followDimensions, [JSON.stringify(this.dimensions)]);
    await this.database.rows(followSuffixes, [JSON.stringify(this.suffixes)]);
  }

  /** What the program ships of a bearing, whatever the workshop keeps in its place. */
  dimensionsOf(designation: string): ShippedDimensions | null {
    return this.byDesignation.get(designation) ?? null;
  }

  suffixOf(maker: string, suffix: string): ShippedSuffix | null {
    return this.suffixes.find((row) => row.maker === maker && row.suffix === suffix) ?? null;
  }

  /** Puts back what the program ships, where a row of the workshop's own was removed. */
  async putBack(transaction: Transaction, rows: { dimensions?: ShippedDimensions; suffix?: ShippedSuffix }): Promise<void> {
    if (rows.dimensions) await transaction.rows(followDimensions, [JSON.stringify([rows.dimensions])]);
    if (rows.suffix) await transaction.rows(followSuffixes, [JSON.stringify([rows.suffix])]);
  }
}

function shippedRows<Row>(file: string): Row[] {
  return parse(readFileSync(new URL(`../../../assets/bearings/${file}`, import.meta.url)), { columns: true }) as Row[];
}
