import { readDesignation } from '@corewright/bearings/read-designation';
import type { BearingTables, KeepDimensions, KeepSuffix, StrikeDimensions, StrikeSuffix } from '@corewright/contracts/bearings';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../../platform/commands/unit-of-work.js';
import { rowsTogether } from '../../../platform/database/many-rows.js';
import { done, notFound, type Result, refused } from '../../../platform/refusal.js';
import { makerCalled } from '../../maker.queries.js';
import { makersSuffixes } from '../bearing.queries.js';
import { nameInTable } from '../bearing-facts.js';
import { ShippedBearings } from '../shipped-bearings.js';
import { BearingTablesAnswer } from './bearing-tables.js';
import { decideDimensions, shippedStays, whyNoSuffix } from './decide-row.js';
import { changeOf, intoChanges, keyOfSuffix } from './table.queries.js';

/** A rating that was brought in was of the row that stood there, by its source: it is not keyed here, so it goes with that. */
const keepDimensions = `
  INSERT INTO bearing_dimensions (designation, type, bore_mm, outside_mm, width_mm, chamfer_min_mm, source, shipped)
  VALUES ($1, $2, $3, $4, $5, $6, $7, false)
  ON CONFLICT (designation) DO UPDATE SET (type, bore_mm, outside_mm, width_mm, chamfer_min_mm, dynamic_rating_n, source, shipped)
    = (excluded.type, excluded.bore_mm, excluded.outside_mm, excluded.width_mm, excluded.chamfer_min_mm, NULL, excluded.source, false)
  RETURNING to_json(bearing_dimensions) AS row`;
const keepSuffix = `
  INSERT INTO bearing_suffixes (maker, suffix, aspect, value, words, source, shipped) VALUES ($1, $2, $3, $4, $5, $6, false)
  ON CONFLICT (maker, suffix) DO UPDATE SET (aspect, value, words, source, shipped)
    = (excluded.aspect, excluded.value, excluded.words, excluded.source, false)
  RETURNING to_json(bearing_suffixes) AS row`;
const lockDimensions = 'SELECT shipped FROM bearing_dimensions WHERE designation = $1 FOR UPDATE';
const lockSuffix = 'SELECT shipped FROM bearing_suffixes WHERE maker = $1 AND suffix = $2 FOR UPDATE';
const removeDimensions = 'DELETE FROM bearing_dimensions WHERE designation = $1 RETURNING to_json(bearing_dimensions) AS row';
const removeSuffix = 'DELETE FROM bearing_suffixes WHERE maker = $1 AND suffix = $2 RETURNING to_json(bearing_suffixes) AS row';

interface Shipped extends Record<string, unknown> {
  shipped: boolean;
}
interface Written extends Record<string, unknown> {
  row: unknown;
}

/** Keeps and strikes out the workshop's own rows of the tables of bearings; each stays in the log with who did it. */
@Injectable()
export class EditTablesHandler {
  constructor(
    private readonly tables: BearingTablesAnswer,
    private readonly shipped: ShippedBearings,
  ) {}

  async keepDimensions(transaction: Transaction, keyed: KeepDimensions): Promise<Result<BearingTables>> {
    const decided = decideDimensions(keyed);
    if (!decided.ok) return decided;
    const { bore, outside, width, chamfer } = decided.value;
    const name = await this.nameOf(transaction, keyed.designation);
    const written = await transaction.row<Written>(keepDimensions, [
      name,
      keyed.type,
      bore,
      outside,
      width,
      chamfer,
      keyed.source,
    ]);
    return this.logged(transaction, name, written, null);
  }

  async strikeDimensions(transaction: Transaction, { designation, why }: StrikeDimensions): Promise<Result<BearingTables>> {
    const name = await this.nameOf(transaction, designation);
    const row = await transaction.row<Shipped>(lockDimensions, [name]);
    if (row === null) return refused(notFound(`The bearing ${name}`));
    if (row.shipped) return refused(shippedStays(`The row of ${name}`));
    const removed = await transaction.row<Written>(removeDimensions, [name]);
    const dimensions = this.shipped.dimensionsOf(name);
    if (dimensions !== null) await this.shipped.putBack(transaction, { dimensions });
    return this.logged(transaction, name, removed, why);
  }

  async keepSuffix(transaction: Transaction, keyed: KeepSuffix): Promise<Result<BearingTables>> {
    const not = whyNoSuffix(keyed);
    if (not !== null) return refused(not);
    const { suffix, aspect, value, words, source } = keyed;
    const maker = keyed.maker === '' ? '' : (await makerCalled(transaction, keyed.maker)).name;
    const written = await transaction.row<Written>(keepSuffix, [maker, suffix, aspect, value, words, source]);
    return this.logged(transaction, keyOfSuffix(maker, suffix), written, null);
  }

  async strikeSuffix(transaction: Transaction, { maker, suffix: marked, why }: StrikeSuffix): Promise<Result<BearingTables>> {
    const row = await transaction.row<Shipped>(lockSuffix, [maker, marked]);
    if (row === null) return refused(notFound(`The suffix ${marked}`));
    if (row.shipped) return refused(shippedStays(`The suffix ${marked}`));
    const removed = await transaction.row<Written>(removeSuffix, [maker, marked]);
    const suffix = this.shipped.suffixOf(maker, marked);
    if (suffix !== null) await this.shipped.putBack(transaction, { suffix });
    return this.logged(transaction, keyOfSuffix(maker, marked), removed, why);
  }

  /** A number is kept under the name by which it is looked up, without suffixes that do not change its dimensions. */
  private async nameOf(transaction: Transaction, designation: string): Promise<string> {
    const reading = readDesignation(designation, await makersSuffixes(transaction));
    return nameInTable(reading);
  }

  private async logged(
    transaction: Transaction,
    key: string,
    written: Written | null,
    why: string | null,
  ): Promise<Result<BearingTables>> {
    transaction.send(intoChanges.text, rowsTogether([changeOf(transaction.command, key, written?.row ?? null, why)]));
    transaction.news('stores');
    return done(await this.tables.of(transaction, ''));
  }
}
