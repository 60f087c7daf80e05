/**
 * How many complete rebuilds the stock allows, of one unit type or of several that compete for it, as an integer program. Each rebuild takes one core
 * and what its parts list needs; a core can also be broken for what it surely gives. In CPLEX LP format, for a solver to answer.
 *
 * For types t, donors d, parts p and stock s, all variables at least 0:
 *   x(t) rebuilds, whole; z(d, k) 0 or 1: whether a k-th core of the donor is broken; y(s, p) of stock s used as part p
 *   greatest  M sum x(t) - sum z(d, k),  M = 1 + all cores: of the plans with the most rebuilds the one that breaks the fewest cores
 *   x(t) + sum over k of z(d, k) <= cores(t), where the donor is of the type; z(d, k + 1) <= z(d, k)
 *   sum over p of y(s, p) <= free(s) + sum over d, k of (gives(d, s, k) - gives(d, s, k - 1)) z(d, k) for each stock
 *   sum over s of y(s, p) >= sum over t of needs(t, p) x(t) for each part
 *
 * What k cores give together is no multiple of what one gives: so sure as with one, more than k times as much comes out of k. A number for each k
 * keeps all of it whole and the program linear.
 */

export interface Amount {
  partId: string;
  /** in the part's unit of measure */
  quantity: number;
}

export interface TypeToBuild {
  id: string;
  /** cores that are free to be built on or broken */
  cores: number;
  /** of one rebuild; a part may stand more than once */
  needs: readonly Amount[];
}

/** Cores of one type that can be broken. Where the type is built as well, they are among its cores: one that is built on is not broken. */
export interface Donor {
  typeId: string;
  gives: readonly Given[];
}

export interface Given {
  /** the stock that it adds to */
  stockId: string;
  /** whole pieces from one core, from two together, and so on, never fewer from more; no more cores are broken than this has numbers */
  byCores: readonly number[];
}

/** Stock that can go in as any of these parts: as itself, or in place of another. */
export interface FreeStock {
  id: string;
  quantity: number;
  serves: readonly string[];
}

export interface Plan {
  /** by the id of the type */
  builds: ReadonlyMap<string, number>;
  broken: ReadonlyMap<string, number>;
}

/** What one more rebuild lacks, of the fewest pieces that would do. */
export interface Lacking {
  parts: Amount[];
  cores: number;
}

/** The values of a solved program by the names of its variables. */
export type Solution = ReadonlyMap<string, number>;

/** So much weighs a core that is lacking against pieces of a part. */
const coreWeight = 1000;
/** Quantities have four places; what is beyond them is the solver's tolerance. */
const places = 10_000;

/** What there is to plan with. */
export interface Workshop {
  types: readonly TypeToBuild[];
  stock: readonly FreeStock[];
  donors: readonly Donor[];
}

/** The program with the most rebuilds. */
export function mostBuilds(workshop: Workshop): string {
  const { types, donors } = workshop;
  const broken = donors.flatMap(brokenOf);
  const cores = types.reduce((sum, type) => sum + type.cores, broken.length);
  const objective = [...types.map((_, t) => term(1 + cores, build(t))), ...broken.map((name) => term(-1, name))];
  const rows = [...coreRows(workshop, false), ...stockRows(workshop), ...partRows(workshop, false)];
  return lpText('Maximize', objective, rows, [], workshop);
}

/** What would have to be there for one more of a type, with all that the plan builds already. */
export function oneMore(workshop: Workshop, plan: Plan, typeId: string): string {
  const { types } = workshop;
  const parts = partsNeeded(types);
  const objective = [...parts.map((_, p) => term(1, lack(p))), ...types.map((_, t) => term(coreWeight, lackCore(t)))];
  const rows = [...coreRows(workshop, true), ...stockRows(workshop), ...partRows(workshop, true)];
  const bounds = types.map((type, t) => {
    const builds = (plan.builds.get(type.id) ?? 0) + (type.id === typeId ? 1 : 0);
    return `${build(t)} = ${builds}`;
  });
  return lpText('Minimize', objective, rows, bounds, workshop);
}

export function planOf({ types, donors }: Workshop, solution: Solution): Plan {
  const whole = (name: string) => Math.round(solution.get(name) ?? 0);
  return {
    builds: new Map(types.map(({ id }, t) => [id, whole(build(t))])),
    broken: new Map(donors.map((donor, d) => [donor.typeId, brokenOf(donor, d).reduce((sum, name) => sum + whole(name), 0)])),
  };
}

export function lackingOf({ types }: Workshop, solution: Solution): Lacking {
  const parts = partsNeeded(types).map((partId, p) => ({
    partId,
    quantity: Math.round((solution.get(lack(p)) ?? 0) * places) / places,
  }));
  const cores = types.reduce((sum, _, t) => sum + (solution.get(lackCore(t)) ?? 0), 0);
  return { parts: parts.filter(({ quantity }) => quantity > 0), cores: Math.round(cores) };
}

const build = (t: number) => `x${t}`;
const breakUp = (d: number, k: number) => `z${d}_${k}`;
const use = (s: number, p: number) => `y${s}_${p}`;
const lack = (p: number) => `m${p}`;
const lackCore = (t: number) => `c${t}`;

function partsNeeded(types: readonly TypeToBuild[]): string[] {
  return [...new Set(types.flatMap(({ needs }) => needs.map(({ partId }) => partId)))];
}

function total(amounts: readonly Amount[], partId: string): number {
  return amounts.reduce((sum, amount) => (amount.partId === partId ? sum + amount.quantity : sum), 0);
}

function term(factor: number, name: string): string {
  return factor === 0 ? '' : `${factor < 0 ? '-' : '+'} ${Math.abs(factor)} ${name}`;
}

/** The variables of a donor's cores, the first first. */
function brokenOf({ gives }: Donor, d: number): string[] {
  const cores = Math.max(0, ...gives.map(({ byCores }) => byCores.length));
  return Array.from({ length: cores }, (_, k) => breakUp(d, k));
}

/** With `lenient` a core may be lacking, and counts as such. */
function coreRows({ types, donors }: Workshop, lenient: boolean): string[] {
  const ofTypes = types.map(({ id, cores }, t) => {
    const broken = donors.flatMap((donor, d) => (donor.typeId === id ? brokenOf(donor, d) : []));
    const used = [term(1, build(t)), ...broken.map((name) => term(1, name)), ...(lenient ? [term(-1, lackCore(t))] : [])];
    return `${used.join(' ')} <= ${cores}`;
  });
  const inTurn = donors.flatMap((donor, d) =>
    brokenOf(donor, d)
      .slice(1)
      .map((name, k) => `${term(1, name)} ${term(-1, breakUp(d, k))} <= 0`),
  );
  return [...ofTypes, ...inTurn];
}

function stockRows({ types, stock, donors }: Workshop): string[] {
  const parts = new Map(partsNeeded(types).map((partId, p) => [partId, p]));
  const given = givenTo(donors);
  const rows: string[] = [];
  for (const [s, { id, quantity, serves }] of stock.entries()) {
    const used = serves.flatMap((partId) => {
      const p = parts.get(partId);
      return p === undefined ? [] : [term(1, use(s, p))];
    });
    if (used.length > 0) rows.push(`${[...used, ...(given.get(id) ?? [])].join(' ')} <= ${quantity}`);
  }
  return rows;
}

/** By the stock: what each further core adds to it, as terms. */
function givenTo(donors: readonly Donor[]): Map<string, string[]> {
  const terms = new Map<string, string[]>();
  for (const [d, { gives }] of donors.entries())
    for (const { stockId, byCores } of gives) {
      const more = byCores.map((pieces, k) => term((byCores[k - 1] ?? 0) - pieces, breakUp(d, k)));
      terms.set(stockId, [...(terms.get(stockId) ?? []), ...more.filter((each) => each !== '')]);
    }
  return terms;
}

function partRows({ types, stock }: Workshop, lenient: boolean): string[] {
  const servers = new Map<string, number[]>();
  for (const [s, { serves }] of stock.entries())
    for (const partId of new Set(serves)) servers.set(partId, [...(servers.get(partId) ?? []), s]);
  const needed = neededTerms(types);
  return partsNeeded(types).map((partId, p) => {
    const used = (servers.get(partId) ?? []).map((s) => term(1, use(s, p)));
    return `${[...used, ...(lenient ? [term(1, lack(p))] : []), ...(needed.get(partId) ?? [])].join(' ')} >= 0`;
  });
}

/** By the part: what the rebuilds of each type take of it, as terms. */
function neededTerms(types: readonly TypeToBuild[]): Map<string, string[]> {
  const terms = new Map<string, string[]>();
  for (const [t, { needs }] of types.entries())
    for (const partId of new Set(needs.map((need) => need.partId)))
      terms.set(partId, [...(terms.get(partId) ?? []), term(-total(needs, partId), build(t))]);
  return terms;
}

function lpText(
  aim: 'Maximize' | 'Minimize',
  objective: readonly string[],
  rows: readonly string[],
  bounds: readonly string[],
  { types, donors }: Workshop,
): string {
  const sum = objective.filter((each) => each !== '').join('\n ');
  const broken = donors.flatMap(brokenOf);
  return [
    aim,
    ` ${sum}`,
    'Subject To',
    ...rows.map((row) => ` ${row.replaceAll(/ (?=[+-] )/g, '\n  ')}`),
    ...(bounds.length === 0 ? [] : ['Bounds', ...bounds.map((bound) => ` ${bound}`)]),
    'General',
    ...types.map((_, t) => ` ${build(t)}`),
    ...(broken.length === 0 ? [] : ['Binary', ...broken.map((name) => ` ${name}`)]),
    'End',
    '',
  ].join('\n');
}
