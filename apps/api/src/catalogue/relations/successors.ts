import type { PartNamed, Successor } from '@corewright/contracts/relations';
import { nameIn, successorWords } from './relation-words.js';

/** A supersession that stands: what a part became, or with others the kit that took its place. */
export interface Step {
  fromId: string;
  toId: string;
  isKit: boolean;
  since: string | null;
}

/** A step with what it leads to is called. */
export type NamedStep = Step & Omit<PartNamed, 'id'>;

/** What a part became, step by step; `current` is what stands at the end, several where a kit took its place. */
export interface Chain {
  steps: Step[];
  chain: string[];
  current: string[];
}

/** Follows supersessions forward; null where the part is not superseded. A kit ends the chain: each piece has a life of its own. */
export function chainFrom(partId: string, later: readonly Step[]): Chain | null {
  const steps: Step[] = [];
  const chain = [partId];
  let current = [partId];
  while (current.length === 1) {
    const here = current[0];
    const next = later.filter((step) => step.fromId === here);
    if (next.length === 0 || next.some((step) => chain.includes(step.toId))) break;
    steps.push(...next);
    current = next.map((step) => step.toId);
    chain.push(...current);
  }
  return steps.length === 0 ? null : { steps, chain, current };
}

/** What a part became, by every step after it; null where there is none. */
export function successorBy(part: PartNamed, steps: readonly NamedStep[]): Successor | null {
  const found = chainFrom(part.id, steps);
  if (found === null) return null;
  const parts = new Map([[part.id, part]]);
  for (const { toId, name, number, maker } of steps) parts.set(toId, { id: toId, name, number, maker });
  const named = (ids: readonly string[]) => ids.map((id) => nameIn(parts, id));
  return { chain: named(found.chain), current: named(found.current), words: successorWords(found.steps, parts) };
}
