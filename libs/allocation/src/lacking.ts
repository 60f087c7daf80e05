/**
 * What one more rebuild of a type would lack, with all that a plan builds already: the fewest pieces that would do, however the stock is dealt out and whichever
 * cores are broken for it. The rebuilds being known, all that the stock covers drops out, and often nothing is left for a solver.
 */
import {
  type Amount,
  brokenOf,
  inTurn,
  lpText,
  type Plan,
  type Solution,
  stockRows,
  term,
  type Wants,
  type Workshop,
  wantsOf,
} from './buildable.js';

/** What one more rebuild lacks. */
export interface Lacking {
  parts: Amount[];
  cores: number;
}

/** A program, or null where there is nothing to solve, and what its solution says. */
export interface LackingProgram {
  text: string | null;
  read: (solution: Solution) => Lacking;
}

/** So much weighs a core that is lacking against pieces of a part. */
const coreWeight = 1000;
/** Quantities have four places; what is beyond them is the solver's tolerance. */
const places = 10_000;

const lack = (index: number) => `m${index}`;
const lackCore = (t: number) => `c${t}`;

interface Short {
  partId: string;
  /** of it so much is asked for beyond what is free */
  short: number;
  given: readonly string[];
}

/** What one more of any of its types lacks, on top of a plan. What is needed and what there is of it is parted once for all of them. */
export function oneMoreOf(workshop: Workshop, plan: Plan): (typeId: string) => LackingProgram {
  const wants = wantsOf(workshop);
  return (typeId) => oneMore(workshop, wants, plan, typeId);
}

function oneMore({ types, donors }: Workshop, wants: Wants, plan: Plan, typeId: string): LackingProgram {
  const builds = types.map(({ id }) => (plan.builds.get(id) ?? 0) + (id === typeId ? 1 : 0));
  const demandOf = (needs: Wants['alone'][number]['needs']) =>
    needs.reduce((sum, { t, quantity }) => sum + quantity * (builds[t] ?? 0), 0);
  const short = wants.alone
    .map(({ partId, needs, free, given }): Short => ({ partId, short: demandOf(needs) - free, given }))
    .filter((each) => each.short > 0);
  const [open, closed] = [short.filter(({ given }) => given.length > 0), short.filter(({ given }) => given.length === 0)];
  const variable = [...open.map(({ partId }) => partId), ...wants.shared.map(({ partId }) => partId)];
  const broken = donors.flatMap(brokenOf);
  const cores = types.map(({ id, cores: free }, t) => {
    const names = donors.flatMap((donor, d) => (donor.typeId === id ? brokenOf(donor, d) : []));
    return { t, left: free - (builds[t] ?? 0), broken: names };
  });
  const rows = [
    ...cores.filter((each) => each.broken.length > 0).map((each) => coreRow(each)),
    ...donors.flatMap(inTurn),
    // what is given stands with a minus, as it is taken off what is used
    ...open.map((each, index) => `${[...each.given, term(-1, lack(index))].join(' ')} <= ${-each.short}`),
    ...stockRows(wants.sharedStock),
    ...wants.shared.map(({ used, needs }, index) => {
      const taken = [...used.map((name) => term(1, name)), term(1, lack(open.length + index))];
      return `${taken.join(' ')} >= ${demandOf(needs)}`;
    }),
  ];
  const objective = [
    ...variable.map((_, index) => term(1, lack(index))),
    ...cores.filter((each) => each.broken.length > 0).map(({ t }) => term(coreWeight, lackCore(t))),
  ];
  return {
    text: variable.length === 0 ? null : lpText({ aim: 'Minimize', objective, rows, whole: [], binary: broken }),
    read: (solution) => {
      const found = variable.map((partId, index) => ({ partId, quantity: rounded(solution.get(lack(index)) ?? 0) }));
      const known = closed.map(({ partId, short: quantity }) => ({ partId, quantity: rounded(quantity) }));
      const lackingCores = cores.map(({ t, left }) => Math.max(0, -left, Math.round(solution.get(lackCore(t)) ?? 0)));
      return {
        parts: [...known, ...found].filter(({ quantity }) => quantity > 0),
        cores: lackingCores.reduce((sum, count) => sum + count, 0),
      };
    },
  };
}

function coreRow({ t, left, broken }: { t: number; left: number; broken: readonly string[] }): string {
  return `${[...broken.map((name) => term(1, name)), term(-1, lackCore(t))].join(' ')} <= ${left}`;
}

function rounded(quantity: number): number {
  return Math.round(quantity * places) / places;
}
