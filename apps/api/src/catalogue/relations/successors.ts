import type { Link } from './what-may-serve.js';

/** What a part became, step by step; `current` is what stands at the end, several where a kit took its place. */
export interface Chain<L extends Link = Link> {
  steps: L[];
  chain: string[];
  current: string[];
}

/** Follows supersessions forward; null where the part is not superseded. A kit ends the chain: each piece has a life of its own. */
export function chainFrom<L extends Link>(partId: string, links: readonly L[]): Chain<L> | null {
  const steps: L[] = [];
  const chain = [partId];
  let current = [partId];
  while (current.length === 1) {
    const here = current[0];
    const next = links.filter((link) => link.kind === 'supersession' && !link.isWithdrawn && link.fromId === here);
    if (next.length === 0 || next.some((link) => chain.includes(link.toId))) break;
    steps.push(...next);
    current = next.map((link) => link.toId);
    chain.push(...current);
  }
  return steps.length === 0 ? null : { steps, chain, current };
}
