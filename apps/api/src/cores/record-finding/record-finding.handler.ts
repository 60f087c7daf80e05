import type { Coded } from '@corewright/contracts/base';
import type { RecordStripFinding, StripFindingDone } from '@corewright/contracts/cores';
import { decimalFrom, zero } from '@corewright/quantities/decimal';
import { Injectable } from '@nestjs/common';
import { partFacts } from '../../catalogue/part.queries.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, invariant, type Result, refused } from '../../platform/refusal.js';
import { PassOn } from '../../stores/costs/pass-on/pass-on.js';
import { fittedThatGoes } from '../fitted-here.js';
import { JobOfUnitRegister, type LineOfPart } from '../job-of-unit.js';
import { lockStripDown, type StripDownUnderWay } from '../lock-strip-down.js';
import { findingShown } from '../strip-down.queries.js';
import { toLookAtOf, undecidedOf } from '../strip-state.js';
import { CarryOut } from './carry-out.js';
import { componentAsked, decideFinding, type FindingPlan } from './decide-finding.js';
import { keepTogether } from './keep-together.js';
import { type GoesOn, undoFinding } from './put-right.js';
import { taggedBefore } from './tagged-before.js';
import { componentsAfter, tellJob, writeFinding } from './write-finding.js';

const isThere = 'SELECT 1 AS there FROM strip_findings WHERE id = $1';

/** An exception at a strip-down: what was seen of a component, and what becomes of it. */
@Injectable()
export class RecordFindingHandler {
  constructor(
    private readonly jobs: JobOfUnitRegister,
    private readonly carryOut: CarryOut,
    private readonly passOn: PassOn,
  ) {}

  async handle(transaction: Transaction, stripDownId: string, input: RecordStripFinding): Promise<Result<StripFindingDone>> {
    const locked = await lockStripDown(transaction, stripDownId, this.jobs);
    if (!locked.ok) return locked;
    const strip = locked.value;
    const fault = await faultOf(transaction, input);
    if (fault !== null) return refused(fault);
    const line = await this.lineOf(transaction, strip, input);
    const { components, job, unit } = strip;
    const decided = decideFinding({ components, isCustomers: unit.ownerId !== null, hasJob: job !== null, line }, input);
    if (!decided.ok) return decided;
    const plan = decided.value;
    const goesOn = await this.whatGoesOn(transaction, strip, plan, input);
    if (!goesOn.ok) return goesOn;
    const fitted = isNewOut(plan, goesOn.value) ? fittedThatGoes(strip.fitted, plan.partId, plan.quantity) : done(null);
    if (!fitted.ok) return fitted;
    const doing = { ...doingOf(plan, input), line, goesOn: goesOn.value, fitted: fitted.value };
    const thing = await this.carryOut.do(transaction, strip, { ...plan, ...doing });
    if (!thing.ok) return thing;
    const together = await this.together(transaction, strip, plan, input, thing.value);
    if (!together.ok) return together;
    await writeFinding(transaction, strip.id, { ...input, ...plan, lookedAt: true, thingId: thing.value?.id ?? null });
    const cost = fitted.value === null ? await this.costOf(transaction, strip, plan, thing.value) : itsOwnCost;
    return done(await this.outcome(transaction, strip, { plan, input, thing: thing.value, cost, keptSet: together.value }));
  }

  private async lineOf(
    transaction: Transaction,
    { job, components }: StripDownUnderWay,
    { position }: RecordStripFinding,
  ): Promise<LineOfPart | null> {
    const partId = componentAsked(components, position)?.partId ?? null;
    return job === null || partId === null ? null : this.jobs.lineOf(transaction, job.id, partId);
  }

  /** What an earlier finding made, or a tag that the component has had since before. */
  private async whatGoesOn(
    transaction: Transaction,
    strip: StripDownUnderWay,
    plan: FindingPlan,
    input: RecordStripFinding,
  ): Promise<Result<GoesOn | null>> {
    if (plan.superseded !== null) return undoFinding(transaction, strip, plan.superseded, plan);
    return input.code === undefined ? done(null) : taggedBefore(transaction, strip, plan, input.code);
  }

  private together(
    transaction: Transaction,
    strip: StripDownUnderWay,
    { component, superseded, found }: FindingPlan,
    input: RecordStripFinding,
    thing: Coded | null,
  ): Promise<Result<string | null>> {
    if (component === null || component.keptSet === '') return Promise.resolve(done(null));
    return keepTogether(transaction, strip, { component, superseded, input, found, thingId: thing?.id ?? null });
  }

  /** What came out carries its share, and what was put right gives its share back. Only of a lot something is said. */
  private async costOf(
    transaction: Transaction,
    { unit }: StripDownUnderWay,
    { fate, superseded, name }: FindingPlan,
    thing: Coded | null,
  ): Promise<string | null> {
    if (thing === null && superseded === null) return null;
    const words = await this.passOn.anew(transaction, unit.id, `strip-down: ${name}`.slice(0, 200));
    return fate.make === 'lot' ? words : null;
  }

  private async outcome(
    transaction: Transaction,
    strip: StripDownUnderWay,
    {
      plan,
      input,
      thing,
      cost,
      keptSet,
    }: { plan: FindingPlan; input: RecordStripFinding; thing: Coded | null; cost: string | null; keptSet: string | null },
  ): Promise<StripFindingDone> {
    const components = await componentsAfter(transaction, strip.id);
    const lines = await tellJob(transaction, strip, components, [plan.component?.partId ?? null], this.jobs);
    const job = strip.job === null ? [] : [`job:${strip.job.id}`, 'jobs'];
    transaction.news(`thing:${strip.unit.id}`, 'strip-downs', 'stores', 'today', ...job);
    const finding = await findingShown(transaction, input.id);
    invariant(finding, 'a finding that was written is there');
    return {
      finding,
      thing,
      cover: lines.length === 0 ? null : `Line ${lines.join(', ')} of the job says so.`,
      cost,
      keptSet,
      undecided: components.filter((component) => undecidedOf(component) > zero).length,
      toLookAt: components.filter((component) => toLookAtOf(component) > zero).map((component) => component.name),
    };
  }
}

async function faultOf(transaction: Transaction, input: RecordStripFinding) {
  if (await transaction.row(isThere, [input.id])) return badInput('id', 'A finding with this id is in the books already.');
  if (input.partId !== null && (await partFacts(transaction, input.partId)) === null)
    return badInput('partId', 'That part is not in the books. Choose one from the list, or leave it empty.');
  if (input.thickness !== null && decimalFrom(input.thickness) === zero)
    return badInput('thickness', 'A shim has a thickness. Key what the micrometer says, in millimetres.');
  return null;
}

/** Said of what was fitted here: it has a cost of its own, and takes no share of the unit's. */
const itsOwnCost = 'It was fitted here and carries what it cost before.';

/** Something comes out that has no tag or lot yet: where it was fitted here, it is that lot. */
function isNewOut({ fate, component, superseded }: FindingPlan, goesOn: GoesOn | null): boolean {
  return fate.make !== 'nothing' && goesOn === null && component !== null && superseded?.thingId == null;
}

function doingOf(plan: FindingPlan, input: RecordStripFinding) {
  const { stamped, thickness, condition, make, placeId, firmId } = input;
  return {
    stamped,
    thickness,
    condition,
    make,
    placeId,
    firmId,
    note: plan.found,
    of: plan.component?.quantity ?? plan.quantity,
  };
}
