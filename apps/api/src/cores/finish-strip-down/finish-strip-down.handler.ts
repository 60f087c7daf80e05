import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import type { StripDownFinished } from '@corewright/contracts/cores';
import { zero } from '@corewright/quantities/decimal';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { done, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { JobOfUnitRegister } from '../job-of-unit.js';
import { lockStripDown } from '../lock-strip-down.js';
import { type ComponentState, toLookAtOf, undecidedOf } from '../strip-state.js';

const close = 'UPDATE strip_downs SET closed_by = $2, closed_at = clock_timestamp() WHERE id = $1';
const putStage = "UPDATE units SET stage = 'stripped' WHERE thing_id = $1";

/** Closes a strip-down: its record stays as it is, and the unit stands in the books as stripped. */
@Injectable()
export class FinishStripDownHandler {
  constructor(private readonly jobs: JobOfUnitRegister) {}

  async handle(transaction: Transaction, stripDownId: string): Promise<Result<z.infer<typeof StripDownFinished>>> {
    const locked = await lockStripDown(transaction, stripDownId, this.jobs);
    if (!locked.ok) return locked;
    const { id, unit, components, job } = locked.value;
    const barred = whyNotFinished(components);
    if (barred !== null) return refused(barred);
    await transaction.rows(close, [id, transaction.command.person.id]);
    await transaction.rows(putStage, [unit.id]);
    transaction.news(`thing:${unit.id}`, 'strip-downs', 'stores', 'today', ...(job === null ? [] : [`job:${job.id}`, 'jobs']));
    const spoken = formatCode(unit.code as LabelCode);
    return done({ id, unit: { id: unit.id, code: unit.code, name: spoken }, stage: 'stripped', words: `${spoken} is stripped.` });
  }
}

/** Why a strip-down may not be closed yet; null when it may. */
export function whyNotFinished(components: readonly ComponentState[]): Refusal | null {
  const unseen = components.filter((component) => toLookAtOf(component) > zero).map(({ name }) => name);
  if (unseen.length > 0)
    return {
      status: 409,
      code: 'not-looked-at',
      title: 'Not looked at yet',
      detail: `Somebody must look at these before the strip-down is finished: ${unseen.join(', ')}. Record what was found on each. Nothing was changed.`,
      values: { components: unseen },
    };
  const undecided = components.filter((component) => undecidedOf(component) > zero).map(({ name }) => name);
  if (undecided.length === 0) return null;
  return {
    status: 409,
    code: 'undecided',
    title: 'Some have no fate yet',
    detail: `These have no fate yet: ${undecided.join(', ')}. Give the rest their usual fate, or say of each what becomes of it; “left in place” will do. Nothing was changed.`,
    values: { components: undecided },
  };
}
