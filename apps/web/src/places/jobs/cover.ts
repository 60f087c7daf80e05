import { type CoveredLine, type CoverShare, type CoverState, coverStates } from '@corewright/contracts/coverage';
import type { CoverageShare, CoverageState } from '../../ui/coverage-states.js';

const STATES: Readonly<Record<CoverState, CoverageState>> = {
  fitted: 'fitted',
  're-used': 'reused',
  picked: 'picked',
  reserved: 'picked',
  'not yet looked at': 'unseen',
  'free in stores': 'free',
  'at an outworker': 'coming',
  'on order': 'coming',
  'from a core': 'core',
  lacking: 'lacking',
};

/** The mark for a state of the contract. */
export function markOf(state: CoverState): CoverageState {
  return STATES[state];
}

/** The shares of a line for its bar. */
export function barOf(line: { readonly shares: readonly Pick<CoverShare, 'state' | 'quantity'>[] }): readonly CoverageShare[] {
  return line.shares.map((share) => ({ state: STATES[share.state], quantity: share.quantity }));
}

/** How many lines are in each state, each counted by its worst share, for the bar of a whole job. */
export function barOfJob(lines: readonly CoveredLine[]): readonly CoverageShare[] {
  const counts = new Map<CoverageState, number>();
  for (const line of lines) {
    if (line.waived !== null || line.consumable) continue;
    counts.set(STATES[line.state], (counts.get(STATES[line.state]) ?? 0) + 1);
  }
  return [...counts].map(([state, count]) => ({ state, quantity: String(count) }));
}

/** The same of counts by the states of the contract. */
export function barOfCounts(counts: Readonly<Record<string, number>>): readonly CoverageShare[] {
  const sums = new Map<CoverageState, number>();
  for (const state of coverStates) sums.set(STATES[state], (sums.get(STATES[state]) ?? 0) + (counts[state] ?? 0));
  return [...sums].map(([state, count]) => ({ state, quantity: String(count) }));
}

/** Whether nothing is left to do about a line: in the unit, stays in it, waived, or of a consumable. */
export function isFinished(line: CoveredLine): boolean {
  return line.waived !== null || line.consumable || line.state === 'fitted' || line.state === 're-used';
}

/** Whether a share in this state keeps its operation waiting. */
export function isYetToCome(state: CoverState): boolean {
  return coverStates.indexOf(state) >= coverStates.indexOf('at an outworker');
}
