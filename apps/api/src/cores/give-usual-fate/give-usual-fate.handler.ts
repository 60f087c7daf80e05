import type { GiveUsualFate, UsualFateGiven } from '@corewright/contracts/cores';
import { formatDecimal } from '@corewright/quantities/decimal';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { done, type Result, refused } from '../../platform/refusal.js';
import { PassOn } from '../../stores/costs/pass-on/pass-on.js';
import { type FittedHere, lessFitted, lotByLot } from '../fitted-here.js';
import { JobOfUnitRegister, type LineOfPart } from '../job-of-unit.js';
import { lockStripDown, type StripDownUnderWay } from '../lock-strip-down.js';
import { CarryOut } from '../record-finding/carry-out.js';
import { fateOf } from '../record-finding/fate.js';
import { keepTogether } from '../record-finding/keep-together.js';
import { componentsAfter, tellJob, writeFinding } from '../record-finding/write-finding.js';
import { planUsualFate, type UsualFate } from './plan-usual-fate.js';

type Given = UsualFateGiven['given'][number];

/** One act for all that nobody had anything to say about: each component gets its type's usual fate, and counts as never looked at. */
@Injectable()
export class GiveUsualFateHandler {
  constructor(
    private readonly jobs: JobOfUnitRegister,
    private readonly carryOut: CarryOut,
    private readonly passOn: PassOn,
  ) {}

  async handle(transaction: Transaction, stripDownId: string, input: GiveUsualFate): Promise<Result<UsualFateGiven>> {
    const locked = await lockStripDown(transaction, stripDownId, this.jobs);
    if (!locked.ok) return locked;
    const strip = locked.value;
    const lines = await this.linesOf(transaction, strip);
    const alwaysReplaced = new Set([...lines].filter(([, line]) => !line.reusable).map(([partId]) => partId));
    const { components, unit } = strip;
    const plan = planUsualFate({ components, isCustomers: unit.ownerId !== null, ownersWord: input.ownersWord, alwaysReplaced });
    if (plan.give.length === 0)
      return refused(nothingToGive(plan.remaining.map(({ component, why }) => `${component.name}: ${why}`)));
    const given: Given[] = [];
    for (const usual of plan.give) {
      const { partId } = usual.component;
      const line = lines.get(partId ?? '') ?? null;
      const stays = usual.disposition === 'left in place';
      const pieces = stays ? [{ quantity: usual.quantity, fitted: null }] : lotByLot(strip.fitted, partId, usual.quantity);
      for (const { quantity, fitted } of pieces) {
        const one = await this.give(transaction, strip, { ...usual, quantity }, { input, line, fitted });
        if (!one.ok) return one;
        strip.fitted = lessFitted(strip.fitted, fitted, quantity);
        given.push(one.value);
      }
    }
    if (given.some(({ thing }) => thing !== null)) await this.passOn.anew(transaction, unit.id, 'strip-down: the usual fate');
    const after = await componentsAfter(transaction, strip.id);
    const partIds = plan.give.map(({ component }) => component.partId);
    await tellJob(transaction, strip, after, partIds, this.jobs);
    const job = strip.job === null ? [] : [`job:${strip.job.id}`, 'jobs'];
    transaction.news(`thing:${unit.id}`, 'strip-downs', 'stores', 'today', ...job);
    const remaining = plan.remaining.map(({ component: { position, name }, why }) => ({ position, name, why }));
    return done({ given, remaining });
  }

  /** The line of the unit's job for each part that the type knows. */
  private async linesOf(transaction: Transaction, { job, components }: StripDownUnderWay): Promise<Map<string, LineOfPart>> {
    const lines = new Map<string, LineOfPart>();
    if (job === null) return lines;
    for (const partId of new Set(components.map((component) => component.partId))) {
      const line = partId === null ? null : await this.jobs.lineOf(transaction, job.id, partId);
      if (partId !== null && line !== null) lines.set(partId, line);
    }
    return lines;
  }

  private async give(
    transaction: Transaction,
    strip: StripDownUnderWay,
    { component, quantity, disposition }: UsualFate,
    { input, line, fitted }: { input: GiveUsualFate; line: LineOfPart | null; fitted: FittedHere | null },
  ): Promise<Result<Given>> {
    const { position, name, partId, keptSet } = component;
    const { placeId, ownersWord } = input;
    const fate = fateOf({
      disposition,
      isCustomers: strip.unit.ownerId !== null,
      ownersWord,
      hasJob: strip.job !== null,
      hasPlace: false,
      found: '',
    });
    const unsaid = { finding: '', words: '', stamped: '', thickness: null };
    const doing = { fate, position, name, of: component.quantity, quantity, partId, placeId, line, goesOn: null, fitted };
    const thing = await this.carryOut.do(transaction, strip, {
      ...unsaid,
      ...doing,
      firmId: null,
      condition: '',
      make: 'unknown',
      note: '',
    });
    if (!thing.ok) return thing;
    const thingId = thing.value?.id ?? null;
    if (keptSet !== '') {
      const asked = {
        disposition,
        kind: 'as expected' as const,
        stamped: '',
        different: undefined,
        quantity: formatDecimal(quantity),
      };
      const together = await keepTogether(transaction, strip, { component, superseded: null, input: asked, found: '', thingId });
      if (!together.ok) return together;
    }
    const finding = { id: newId(), position, name, kind: 'as expected' as const, quantity, partId, disposition, lookedAt: false };
    await writeFinding(transaction, strip.id, { ...unsaid, ...finding, ownersWord, thingId, supersedesId: null });
    return done({ position, name, disposition, thing: thing.value });
  }
}

function nothingToGive(remaining: readonly string[]) {
  return {
    status: 409,
    code: 'nothing-left',
    title: 'Nothing to give a fate',
    detail:
      remaining.length === 0
        ? 'Every component has its fate already. Finish the strip-down.'
        : `What is left needs you: ${remaining.join('; ')}. Nothing was changed.`,
    values: { remaining },
  };
}
