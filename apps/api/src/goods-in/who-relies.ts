import { Injectable } from '@nestjs/common';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import { UnitJobs } from '../stores/later-names.js';
import type { LockedThing } from '../stores/ledger.js';

const componentsOff = 'SELECT 1 AS there FROM components WHERE unit_id = $1 LIMIT 1';
const takenOutOf = 'SELECT 1 AS there FROM box_takings WHERE box_id = $1 LIMIT 1';
const strippedUnit = 'SELECT 1 AS there FROM strip_downs WHERE unit_id = $1 LIMIT 1';
const boundInSet = 'SELECT 1 AS there FROM kept_set_members WHERE thing_id = $1 AND bound LIMIT 1';

/** Who relies on a thing being in the books, so that it cannot be taken out of them as a mistake. */
@Injectable()
export class WhoRelies {
  constructor(private readonly unitJobs: UnitJobs) {}

  /** Why it stays, and what to do first; null where nobody relies on it. */
  async on(transaction: Transaction, { id, kind, claimed, condemned, keptForOwner }: LockedThing): Promise<string | null> {
    if (condemned) return 'It was condemned, and that stays on the record. Say on its page what becomes of it.';
    if (keptForOwner) return 'It is kept for its owner. Say on its page what becomes of it.';
    if (Number(claimed) > 0) return 'It is promised to a job. Give the claim up first.';
    if (kind === 'X')
      return (await transaction.row(takenOutOf, [id])) ? 'Something was taken out of it and has a label of its own.' : null;
    if (kind === 'L')
      return (await transaction.row(boundInSet, [id])) ? 'It is kept together with another. Break that set first.' : null;
    if (kind !== 'U') return null;
    const job = await this.unitJobs.nameOf(transaction, id);
    if (job !== null) return `There is a job on it: ${job.name}. Call the job off first.`;
    if (await transaction.row(strippedUnit, [id])) return 'Somebody has begun to strip it, and that stays on the record.';
    return (await transaction.row(componentsOff, [id])) ? 'A component was taken off it and has a tag of its own.' : null;
  }
}
