import type { LabelCode } from '@corewright/codes/label-code';
import type { OpenJob } from '@corewright/contracts/jobs';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import { WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { badInput, done, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { giveCode } from '../../scanning/code-register.js';
import { readCode, whyNothingOpens } from '../../scanning/resolve-code.js';
import { whyOfNoUse } from '../../stores/goods-apart/why-barred.js';
import { holderOf, lockOf, unknownOwnerId } from '../../stores/ledger.js';
import { spoken } from '../job.queries.js';

export type OpenJobInput = z.infer<typeof OpenJob>;

interface UnitRow extends Record<string, unknown> {
  id: string;
  unitTypeId: string | null;
  name: string;
  owner: string | null;
  ownerId: string | null;
}

const unitByCode = `
  SELECT things.id, unit_type_id AS "unitTypeId", owner_id AS "ownerId", parties.name AS owner,
         concat_ws(', ', coalesce(unit_types.kind, nullif(units.words, ''), 'Unit not yet identified'), nullif(concat_ws(' ', makers.name, unit_types.model), '')) AS name
    FROM codes JOIN things ON things.id = subject_id JOIN units ON thing_id = things.id
    LEFT JOIN unit_types ON unit_types.id = unit_type_id LEFT JOIN makers ON makers.id = maker_id LEFT JOIN parties ON parties.id = owner_id
   WHERE code = $1 AND voided_at IS NULL`;
const openJobOnUnit = `
  SELECT code FROM jobs JOIN codes ON subject_id = jobs.id AND codes.kind = 'J'
   WHERE unit_id = $1 AND state NOT IN ('done', 'released', 'called off') LIMIT 1`;
const customerByName = 'SELECT id FROM parties WHERE name = $1 AND is_customer';
const insertTray = "INSERT INTO places (holder_id, parent_id, name, kind) VALUES ($1, NULL, $2, 'tray')";
const insertJob = `
  INSERT INTO jobs (id, unit_id, customer_id, title, wanted, build_standard, state, priority, tray_id, opened_on)
  VALUES ($1, $2, $3, $4, $5, $6, 'estimate', $7, $8, $9)`;
const copyOperations = `
  INSERT INTO job_operations (id, job_id, number, name, minutes_planned, minutes_left, after_numbers)
  SELECT gen_random_uuid(), $1, number, name, minutes, minutes, after_numbers FROM unit_type_operations WHERE unit_type_id = $2`;
const copyLines = `
  INSERT INTO job_lines (id, job_id, line_no, part_id, quantity, operation_id, critical, reusable, sources, makes, grade_least)
  SELECT gen_random_uuid(), $1, line_no, part_id, quantity, job_operations.id, critical, reusable, sources, makes, grade_least
    FROM unit_type_lines JOIN job_operations ON job_id = $1 AND number = operation_number WHERE unit_type_id = $2`;
const oneOperation = `
  INSERT INTO job_operations (id, job_id, number, name, minutes_planned, minutes_left) VALUES ($1, $2, 10, 'Identify and strip', 240, 240)`;

const nobodys: Refusal = {
  status: 409,
  code: 'owner-not-known',
  title: 'Nobody knows whose it is',
  detail:
    'Nobody knows whose this unit is, so no job is done on it. Where its owner is found, say so on its page first. Nothing was changed.',
};

/** Opens a job on a unit: its card, its tray, and lines and operations from the parts list of the unit's type. */
@Injectable()
export class OpenJobHandler {
  constructor(private readonly clock: WorkshopClock) {}

  async handle(transaction: Transaction, input: OpenJobInput): Promise<Result<{ id: string; code: LabelCode }>> {
    const read = readCode(input.unitCode, ['U']);
    if (!read.ok) return read;
    const unit = await transaction.row<UnitRow>(unitByCode, [read.value.code]);
    if (!unit) return refused(await whyNothingOpens(transaction, read.value));
    const locked = await lockOf(transaction, unit.id);
    const barred = locked && whyOfNoUse(locked);
    if (barred) return refused(barred);
    if (locked?.ownerId === unknownOwnerId) return refused(nobodys);
    const other = await transaction.row<{ code: string }>(openJobOnUnit, [unit.id]);
    if (other)
      return refused({
        status: 409,
        code: 'unit-has-a-job',
        title: 'There is a job on it',
        detail: `${spoken(read.value.code)} is on the job ${spoken(other.code)} already. Close that one first, or work on it.`,
        values: { job: other.code },
      });
    const customer = await this.customerOf(transaction, input, unit);
    if (!customer.ok) return customer;
    return done(await this.write(transaction, input, unit, customer.value));
  }

  private async customerOf(transaction: Transaction, input: OpenJobInput, unit: UnitRow): Promise<Result<string | null>> {
    if (input.customerName === '') return done(unit.ownerId);
    const row = await transaction.row<{ id: string }>(customerByName, [input.customerName]);
    if (!row)
      return refused(
        badInput(
          'customerName',
          `There is no customer "${input.customerName}". Add the firm or person first, or choose one from the list.`,
        ),
      );
    if (unit.ownerId !== null && unit.ownerId !== row.id)
      return refused(badInput('customerName', `This unit is the property of ${unit.owner}; a job on it is for them.`));
    return done(row.id);
  }

  private async write(
    transaction: Transaction,
    input: OpenJobInput,
    unit: UnitRow,
    customerId: string | null,
  ): Promise<{ id: string; code: LabelCode }> {
    const code = await giveCode(transaction, 'J', input.id);
    const trayId = holderOf(transaction, newId(), 'tray');
    await transaction.rows(insertTray, [trayId, `Tray of ${spoken(code)}`]);
    await giveCode(transaction, 'P', trayId);
    const today = await this.clock.today(transaction);
    await transaction.rows(insertJob, [
      input.id,
      unit.id,
      customerId,
      input.title || unit.name,
      input.wanted,
      input.buildStandard,
      input.priority,
      trayId,
      today,
    ]);
    if (unit.unitTypeId) {
      await transaction.rows(copyOperations, [input.id, unit.unitTypeId]);
      await transaction.rows(copyLines, [input.id, unit.unitTypeId]);
    } else await transaction.rows(oneOperation, [newId(), input.id]);
    transaction.news('jobs', `job:${input.id}`, 'today');
    return { id: input.id, code };
  }
}
