import type { RecordStripFinding } from '@corewright/contracts/cores';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { done, type Result } from '../../platform/refusal.js';
import { type Bound, decideNumbers, type Reading } from '../../stores/kept-sets/set-numbers.js';
import { acceptMismatch, breakSet, joinSet, leaveSet, readAnew, writeOdd, writeSet } from '../../stores/kept-sets/write-set.js';
import type { StripDownUnderWay } from '../lock-strip-down.js';
import type { ComponentState, StandingFinding } from '../strip-state.js';

/** A component of a set that stays together, and what has just become of it. */
export interface SetPiece {
  component: ComponentState;
  superseded: StandingFinding | null;
  input: Pick<RecordStripFinding, 'disposition' | 'kind' | 'stamped' | 'different' | 'quantity'>;
  /** why, where it is gone */
  found: string;
  /** its tag, or its lot of one; null where it got none */
  thingId: string | null;
}

const openSet = `
  SELECT id, ARRAY(SELECT thing_id FROM kept_set_members WHERE set_id = kept_sets.id AND bound)::text[] AS members
    FROM kept_sets WHERE unit_id = $1 AND words = $2 AND broken_at IS NULL FOR NO KEY UPDATE`;

interface OpenSet extends Record<string, unknown> {
  id: string;
  members: string[];
}

const goneBy = ['scrap', 'replace'];

function isGone({ kind, disposition }: Pick<StandingFinding, 'kind' | 'disposition'>): boolean {
  return kind === 'missing' || kind === 'wrong' || goneBy.includes(disposition ?? '');
}

/**
 * Keeps the parts of a set together as they come out of their unit. Numbers that do not match are told at once; where a part of the set is gone, what is
 * left is odd.
 * @returns what was done, in words; null where nothing was to be done
 */
export async function keepTogether(
  transaction: Transaction,
  strip: StripDownUnderWay,
  piece: SetPiece,
): Promise<Result<string | null>> {
  const { component, input, thingId } = piece;
  const words = component.keptSet;
  const set = await transaction.row<OpenSet>(openSet, [strip.unit.id, words]);
  const oldThing = piece.superseded?.thingId ?? null;
  const letsGo = set !== null && oldThing !== null && oldThing !== thingId && set.members.includes(oldThing);
  if (letsGo) await leaveSet(transaction, set.id, oldThing);
  const fellows = fellowsOf(strip.components, component, piece.superseded);
  if (isGone(input)) return done(await withoutIt(transaction, set, piece));
  const decided = decideNumbers([...fellows.map(readingOf), { name: component.name, stamped: input.stamped }], input.different);
  if (!decided.ok) return decided;
  const isMember = thingId !== null && input.quantity === '1';
  const lost = fellows.find(isGone);
  if (!decided.value.together || lost !== undefined)
    return done(isMember ? await asOdd(transaction, { set, piece, strip, lost }) : null);
  return done(isMember ? await asMember(transaction, { set, piece, strip, bound: decided.value }) : null);
}

/** The other components of the set, as far as they were looked at. */
function fellowsOf(
  components: readonly ComponentState[],
  component: ComponentState,
  superseded: StandingFinding | null,
): StandingFinding[] {
  return components
    .filter((each) => each.keptSet === component.keptSet)
    .flatMap((each) => each.standing)
    .filter((finding) => finding !== superseded);
}

function readingOf({ name, stamped }: StandingFinding): Reading {
  return { name, stamped };
}

async function withoutIt(
  transaction: Transaction,
  set: OpenSet | null,
  { component, found, input }: SetPiece,
): Promise<string | null> {
  if (set === null) return null;
  const fate = input.kind === 'missing' ? 'missing' : (input.disposition ?? '');
  const why = [`${component.name}: ${fate}`, found].filter((words) => words !== '').join(', ');
  await breakSet(transaction, set.id, transaction.command.person.displayName, why.slice(0, 200));
  return `The set “${component.keptSet}” is broken: what is left of it is odd, and found by its number.`;
}

interface Member {
  set: OpenSet | null;
  piece: SetPiece;
  strip: StripDownUnderWay;
}

async function asOdd(
  transaction: Transaction,
  { set, piece: { component, thingId, input }, strip, lost }: Member & { lost: StandingFinding | undefined },
): Promise<string> {
  const onWordOf = transaction.command.person.displayName;
  const why =
    lost === undefined ? 'The set numbers differ: they are of two sets.' : `${lost.name}: ${lost.disposition ?? lost.kind}.`;
  if (set !== null) await breakSet(transaction, set.id, onWordOf, why);
  const isLeft = set === null || !set.members.includes(thingId ?? '');
  const members = [{ thingId: thingId as string, stamped: input.stamped }];
  if (isLeft) await writeOdd(transaction, { words: component.keptSet, unitId: strip.unit.id, members, onWordOf, why });
  return `${component.name} is odd: ${why} It is found by its set number.`;
}

async function asMember(
  transaction: Transaction,
  { set, piece: { component, thingId, input }, strip, bound }: Member & { bound: Bound },
): Promise<string> {
  const member = { thingId: thingId as string, stamped: input.stamped };
  if (set === null)
    await writeSet(transaction, { id: newId(), words: component.keptSet, unitId: strip.unit.id, members: [member] }, bound);
  else if (set.members.includes(member.thingId)) await readAnew(transaction, set.id, member);
  else await joinSet(transaction, set.id, member);
  if (set !== null && bound.mismatchReason !== '') await acceptMismatch(transaction, set.id, bound.mismatchReason);
  const number = bound.number === '' ? '' : `, number ${bound.number}`;
  return `Kept together as “${component.keptSet}”${number}: for one job only.`;
}
