/** A supersession that stands: what a part became, or with others the kit that took its place. */
export interface Step {
  fromId: string;
  toId: string;
}

/** What a part became, step by step; `current` is what stands at the end, several where a kit took its place. */
export interface Chain<S extends Step> {
  steps: S[];
  chain: string[];
  current: string[];
}

/** Follows supersessions forward; null where the part is not superseded. A kit ends the chain: each piece has a life of its own. */
export function chainFrom<S extends Step>(partId: string, later: readonly S[]): Chain<S> | null {
  const steps: S[] = [];
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
