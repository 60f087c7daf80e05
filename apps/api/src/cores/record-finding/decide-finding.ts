import type { RecordStripFinding } from '@corewright/contracts/cores';
import { compareDecimals, type Decimal, formatDecimal, subtractDecimals, sumDecimals } from '@corewright/quantities/decimal';
import { checkQuantity } from '@corewright/quantities/unit-of-measure';
import { badInput, done, notFound, type Refusal, type Result, refused } from '../../platform/refusal.js';
import type { LineOfPart } from '../job-of-unit.js';
import type { ComponentState, StandingFinding } from '../strip-state.js';
import { type Fate, fateOf } from './fate.js';

export interface FindingState {
  components: readonly ComponentState[];
  isCustomers: boolean;
  hasJob: boolean;
  /** of the unit's job, that asks for the component's part */
  line: LineOfPart | null;
}

export interface FindingPlan {
  component: ComponentState | null;
  position: number;
  name: string;
  quantity: Decimal;
  partId: string | null;
  fate: Fate;
  superseded: StandingFinding | null;
  found: string;
}

/** Positions of what nobody expected begin behind those that are expected. */
const positionMax = 500;

/** The component that a finding is about; null for what nobody expected. */
export function componentAsked(components: readonly ComponentState[], position: number | null): ComponentState | null {
  return components.find((component) => component.position === position) ?? null;
}

/** Whether a finding may be put on the record, and what it does. Pure: the same state gives the same answer. */
export function decideFinding(state: FindingState, input: RecordStripFinding): Result<FindingPlan> {
  const isExtra = input.kind === 'extra';
  const superseded = standingNamed(state.components, input.supersedesId);
  if (input.supersedesId !== null && superseded === null) return refused(notStanding);
  const component = componentAsked(state.components, superseded?.position ?? input.position);
  if (!isExtra && component === null) return refused(notFound('That component of this unit'));
  const quantity = checkQuantity(input.quantity, 'each');
  if (!quantity.ok) return refused(badInput('quantity', quantity.error.sentence));
  const fault = whyNot(state, input, component, superseded, quantity.value);
  if (fault !== null) return refused(fault);
  const found = [input.finding, input.words].filter((words) => words !== '').join(', ');
  const { isCustomers, hasJob } = state;
  const { disposition, ownersWord, placeId } = input;
  return done({
    component: isExtra ? null : component,
    position: component?.position ?? nextPosition(state.components),
    name: isExtra ? input.name : (component?.name ?? ''),
    quantity: quantity.value,
    partId: input.kind === 'as expected' ? (component?.partId ?? null) : input.partId,
    fate: fateOf({ disposition, isCustomers, ownersWord, hasJob, hasPlace: placeId !== null, found }),
    superseded,
    found,
  });
}

function whyNot(
  state: FindingState,
  input: RecordStripFinding,
  component: ComponentState | null,
  superseded: StandingFinding | null,
  quantity: Decimal,
): Refusal | null {
  if (input.kind === 'extra' && input.name === '') return badInput('name', 'Say what it is that nobody expected.');
  if ((input.kind === 'missing') !== (input.disposition === null))
    return badInput('disposition', 'Say what becomes of it; only what is missing goes nowhere.');
  if (input.kind === 'wrong' && input.words === '' && input.partId === null)
    return badInput('words', 'Say what it is instead, or choose its part.');
  if (component !== null && !component.isExtra) {
    const free = leftBut(component, superseded);
    if (compareDecimals(quantity, free) > 0) return tooMany(component, quantity, free);
  }
  return whyNotSo(state, input, component);
}

/** What the disposition itself asks for. */
function whyNotSo(state: FindingState, input: RecordStripFinding, component: ComponentState | null): Refusal | null {
  if (input.disposition === 'scrap' && state.isCustomers && input.ownersWord === '') return ownersWordMissing;
  if (input.disposition === 'send out' && input.firmId === null)
    return badInput('firmId', 'Say to whom it goes. A shaft without a name on it vanishes at the plater.');
  if (input.disposition === 'to stores' && component?.keepsThickness && input.thickness === null)
    return badInput('thickness', `Measure ${component.name}: shims are kept by position and thickness.`);
  if (input.disposition === 're-use here' && input.kind === 'as expected' && state.line?.reusable === false)
    return {
      status: 409,
      code: 'always-replaced',
      title: 'Always replaced',
      detail: `${component?.name ?? 'This'} is always replaced: the parts list of this type says so, in line ${state.line.lineNo} of the job. Choose “replace”, or another fate. Nothing was changed.`,
    };
  const breaks = component !== null && component.keptSet !== '' && ['scrap', 'replace'].includes(input.disposition ?? '');
  if (breaks && input.finding === '' && input.words === '')
    return badInput('words', `${component.name} belongs to a set that stays together. Say why it does not: what was found.`);
  return null;
}

function leftBut(component: ComponentState, superseded: StandingFinding | null): Decimal {
  const others = component.standing.filter((finding) => finding !== superseded).map((finding) => finding.quantity);
  return subtractDecimals(component.quantity, sumDecimals([component.takenBefore, ...others]));
}

function tooMany(component: ComponentState, quantity: Decimal, free: Decimal): Refusal {
  const left = free <= 0n ? 'all of them have their fate' : `${formatDecimal(free)} of them have no fate yet`;
  return {
    status: 409,
    code: 'more-than-there',
    title: 'More than there are',
    detail: `${component.name}: the type has ${formatDecimal(component.quantity)}, ${left}, and ${formatDecimal(quantity)} were keyed. Put an earlier finding right, or record what is more than that as extra. Nothing was changed.`,
  };
}

function standingNamed(components: readonly ComponentState[], id: string | null): StandingFinding | null {
  if (id === null) return null;
  return components.flatMap((component) => component.standing).find((finding) => finding.id === id) ?? null;
}

function nextPosition(components: readonly ComponentState[]): number {
  const last = components.reduce((most, component) => Math.max(most, component.position), 0);
  return Math.min(last + 1, positionMax);
}

const notStanding: Refusal = {
  status: 409,
  code: 'finding-not-standing',
  title: 'Put right already',
  detail:
    'That finding does not stand at this strip-down: somebody put it right since. Look at the newest, and put that right. Nothing was changed.',
};

const ownersWordMissing: Refusal = {
  status: 409,
  code: 'owners-word-missing',
  title: 'It is not ours to scrap',
  detail:
    'This unit belongs to a customer, and what comes out of it is theirs. Key who of them said that it may be scrapped, and when; or hold it until they have. Nothing was changed.',
};
