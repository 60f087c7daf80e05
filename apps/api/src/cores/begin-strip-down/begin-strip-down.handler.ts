import type { BeginStripDown, StripDown } from '@corewright/contracts/cores';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { whyNotOpened } from '../../stores/goods-apart/why-barred.js';
import { ClaimantNames, UnitJobs } from '../../stores/later-names.js';
import { lockOf } from '../../stores/ledger.js';
import { JobOfUnitRegister } from '../job-of-unit.js';
import { stripDownShown } from '../strip-down.queries.js';
import { whyNotBegun } from './decide-begin.js';
import { unitToStrip } from './unit-to-strip.js';

const insert = `
  INSERT INTO strip_downs (id, command_key, unit_id, unit_type_id, for_job_id, begun_by) VALUES ($1, $2, $3, $4, $5, $6)`;
const isThere = 'SELECT 1 AS there FROM strip_downs WHERE id = $1';
const putStage = "UPDATE units SET stage = 'in work' WHERE thing_id = $1";

/** Opens a unit on the bench: from now on what comes out of it is recorded. */
@Injectable()
export class BeginStripDownHandler {
  constructor(
    private readonly jobs: UnitJobs,
    private readonly claimants: ClaimantNames,
    private readonly register: JobOfUnitRegister,
  ) {}

  async handle(transaction: Transaction, unitId: string, { id, forJobId }: BeginStripDown): Promise<Result<StripDown>> {
    const own = await this.register.lock(transaction, unitId);
    const locked = await lockOf(transaction, unitId);
    const unit = await unitToStrip(transaction, unitId, forJobId, this.names);
    if (locked === null || unit === null) return refused(notFound('That unit'));
    if (await transaction.row(isThere, [id]))
      return refused(badInput('id', 'A strip-down with this id is in the books already.'));
    const barred = whyNotBegun(unit) ?? whyNotOpened(locked);
    if (barred !== null) return refused(barred);
    const { command } = transaction;
    await transaction.rows(insert, [id, command.key, unitId, unit.unitTypeId, forJobId ?? own?.id ?? null, command.person.id]);
    await transaction.rows(putStage, [unitId]);
    transaction.news(`thing:${unitId}`, 'strip-downs', 'stores', 'today');
    const shown = await stripDownShown(transaction, id, this.names);
    invariant(shown, 'a strip-down that was begun is there');
    return done(shown);
  }

  private get names() {
    return { jobs: this.jobs, claimants: this.claimants };
  }
}
