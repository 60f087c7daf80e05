import type { ScanRefusal } from '@corewright/contracts/bench';
import type { QueuedCommand } from '../../api/queue-machine.js';

/** One way on from a stopped scan, as the bench offers it. */
export type BenchChoice = {
  readonly kind: ScanRefusal['choices'][number]['kind'] | 'leave' | 'again';
  readonly words: string;
  readonly detail: string;
  /** goes against a rule, in somebody's name */
  readonly grave: boolean;
  /** what a person must say with it */
  readonly needs: 'nothing' | 'line' | 'operation' | 'reason' | 'quantity';
};

const needs: Readonly<Record<ScanRefusal['choices'][number]['kind'], BenchChoice['needs']>> = {
  quarantine: 'nothing',
  'have-it-here': 'nothing',
  'pick-another': 'nothing',
  'in-place-of': 'line',
  'further-line': 'operation',
  override: 'reason',
  quantity: 'quantity',
  'open-one': 'nothing',
};

const leave: BenchChoice = {
  kind: 'leave',
  words: 'Leave it',
  detail: 'Nothing was changed, and this goes from the side.',
  grave: false,
  needs: 'nothing',
};
const again: BenchChoice = {
  kind: 'again',
  words: 'Try it again',
  detail: 'The reason may be gone by now.',
  grave: false,
  needs: 'nothing',
};

/**
 * What the server offers, in its order, then what is always possible. What is no stopped scan (a take-back that came
 * too late, a command put at the side) can be tried again or left.
 */
export function choicesOf(command: QueuedCommand, refusal: ScanRefusal | null): readonly BenchChoice[] {
  if (command.state.kind !== 'needs-you') return [];
  if (refusal === null) return [again, leave];
  const offered = refusal.choices.map((choice) => ({ ...choice, grave: choice.kind === 'override', needs: needs[choice.kind] }));
  // "take another one" is done by scanning the other one: this one is left
  return offered.some((choice) => choice.kind === 'pick-another') ? offered : [...offered, leave];
}
