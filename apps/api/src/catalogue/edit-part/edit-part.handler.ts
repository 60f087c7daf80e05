import type { AddPart, AddPartNumber, EditPart, PartChanged } from '@corewright/contracts/catalogue';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import { WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../../platform/commands/version-seen.js';
import { newId } from '../../platform/new-id.js';
import { badInput, done, notFound, type Result, refused } from '../../platform/refusal.js';
import { makerNamed } from '../maker.queries.js';
import { partNumberKey } from '../part-number-key.js';
import { type NumberAsked, type NumberThere, whyNotMadeOf, whyNotNumbered } from './decide-part.js';

type Changed = z.infer<typeof PartChanged>;

const insertPart = `
  INSERT INTO parts (id, name, description, nicknames, unit_of_measure, material, polymer) VALUES ($1, $2, $3, $4, $5, $6, $7)`;
const insertNumber = `
  INSERT INTO part_numbers (id, part_id, maker_id, number, number_key, year_first, year_last, is_main) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`;
const selectThere = `
  SELECT number, parts.id AS "partId", parts.name AS "partName" FROM part_numbers JOIN parts ON parts.id = part_id
   WHERE maker_id = $1 AND number_key = $2 ORDER BY number`;
/** Two who write down one number at once, each in another way, would each see none that is like it. */
const oneAtATime = `SELECT pg_advisory_xact_lock(hashtext('corewright number ' || $1::text || ' ' || $2::text))`;
const lockPart = `
  SELECT id, name, description, nicknames, material, polymer, version FROM parts WHERE id = $1 FOR NO KEY UPDATE`;
const updatePart = `
  UPDATE parts SET name = $2, description = $3, nicknames = $4, material = $5, polymer = $6, version = version + 1
   WHERE id = $1 RETURNING version`;

interface PartRow extends Record<string, unknown> {
  id: string;
  version: number;
}

/** Writes down a part, a further number of one, or what one is. A number that was written down stays. */
@Injectable()
export class EditPartHandler {
  constructor(private readonly clock: WorkshopClock) {}

  async add(transaction: Transaction, asked: AddPart): Promise<Result<Changed>> {
    const { id, name, description, nicknames, unitOfMeasure, material, polymer } = asked;
    const made = whyNotMadeOf(asked);
    if (made !== null) return refused(badInput('polymer', made));
    transaction.send(insertPart, [id, name, description, nicknames, unitOfMeasure, material, polymer.toUpperCase()]);
    const numbered = await this.number(transaction, id, { ...asked, yearFirst: null, yearLast: null }, true);
    return numbered.ok ? done({ id, version: 1 }) : numbered;
  }

  async addNumber(transaction: Transaction, partId: string, asked: AddPartNumber): Promise<Result<Changed>> {
    const part = await transaction.row<PartRow>(lockPart, [partId]);
    if (part === null) return refused(notFound('That part'));
    const numbered = await this.number(transaction, partId, asked, false);
    return numbered.ok ? done({ id: partId, version: part.version }) : numbered;
  }

  async edit(transaction: Transaction, partId: string, asked: EditPart): Promise<Result<Changed>> {
    const part = await transaction.row<PartRow>(lockPart, [partId]);
    if (part === null) return refused(notFound('That part'));
    const unseen = whyNotCurrent(transaction.command, part);
    if (unseen !== null) return refused(unseen);
    const made = whyNotMadeOf(asked);
    if (made !== null) return refused(badInput('polymer', made));
    const { name, description, nicknames, material, polymer } = asked;
    const row = await transaction.row<{ version: number }>(updatePart, [
      partId,
      name,
      description,
      nicknames,
      material,
      polymer.toUpperCase(),
    ]);
    // what a part is made of decides how long it keeps, which the rows of loads say too
    transaction.news('stores', 'jobs', 'loads', 'today');
    return done({ id: partId, version: row!.version });
  }

  private async number(
    transaction: Transaction,
    partId: string,
    asked: Omit<NumberAsked, 'maker'> & { makerName: string },
    isMain: boolean,
  ): Promise<Result<null>> {
    const { makerName, number, yearFirst, yearLast } = asked;
    const makerId = await makerNamed(transaction, makerName);
    const key = partNumberKey(number);
    const [, there, today] = await Promise.all([
      transaction.rows(oneAtATime, [makerId, key]),
      transaction.rows<NumberThere & Record<string, unknown>>(selectThere, [makerId, key]),
      this.clock.today(transaction),
    ]);
    const refusal = whyNotNumbered({ ...asked, maker: makerName }, there, today);
    if (refusal !== null) return refused(refusal);
    transaction.send(insertNumber, [newId(), partId, makerId, number, key, yearFirst, yearLast, isMain]);
    transaction.news('stores');
    return done(null);
  }
}
