/**
 * How many complete rebuilds the stock allows, of one unit type or of several that compete for it, as an integer program. Each rebuild takes one core
 * and what its parts list needs; a core can also be broken for what it is expected to give. In CPLEX LP format, for a solver to answer.
 *
 * For types t, parts p and stock s, all variables at least 0:
 *   x(t) rebuilds, whole; h(t) cores broken, whole; y(s, p) of stock s used as part p
 *   greatest  M sum x(t) - sum h(t),  M = 1 + all cores: of the plans with the most rebuilds the one that breaks the fewest cores
 *   x(t) + h(t) <= cores(t)
 *   sum over p of y(s, p) <= free(s) for each stock, and the same of what broken cores give: <= sum over t of gives(t, p) h(t)
 *   sum over s of y(s, p) >= sum over t of needs(t, p) x(t) for each part
 */

export interface Amount {
  partId: string;
  /** in the part's unit of measure; of an expectation also a fraction */
  quantity: number;
}

export interface TypeToBuild {
  id: string;
  /** cores that are free to be built on or broken */
  cores: number;
  /** of one rebuild; a part may stand more than once */
  needs: readonly Amount[];
  /** what one broken core is expected to give; empty where that is not counted */
  gives: readonly Amount[];
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
/** Below it a value is nothing but the solver's tolerance. */
const nothing = 1e-5;

/** The program with the most rebuilds. */
export function mostBuilds(types: readonly TypeToBuild[], stock: readonly FreeStock[]): string {
  const cores = types.reduce((sum, type) => sum + type.cores, 0);
  const objective = types.flatMap((_, t) => [term(1 + cores, build(t)), term(-1, breakUp(t))]);
  const rows = [...coreRows(types, false), ...stockRows(types, stock), ...partRows(types, stock, false)];
  return lpText('Maximize', objective, rows, [], types);
}

/** What would have to be there for one more of a type, with all that the plan builds already. */
export function oneMore(types: readonly TypeToBuild[], stock: readonly FreeStock[], plan: Plan, typeId: string): string {
  const parts = partsNeeded(types);
  const objective = [...parts.map((_, p) => term(1, lack(p))), ...types.map((_, t) => term(coreWeight, lackCore(t)))];
  const rows = [...coreRows(types, true), ...stockRows(types, stock), ...partRows(types, stock, true)];
  const bounds = types.map((type, t) => {
    const builds = (plan.builds.get(type.id) ?? 0) + (type.id === typeId ? 1 : 0);
    return `${build(t)} = ${builds}`;
  });
  return lpText('Minimize', objective, rows, bounds, types);
}

export function planOf(types: readonly TypeToBuild[], solution: Solution): Plan {
  const whole = (name: string) => Math.round(solution.get(name) ?? 0);
  return {
    builds: new Map(types.map(({ id }, t) => [id, whole(build(t))])),
    broken: new Map(types.map(({ id }, t) => [id, whole(breakUp(t))])),
  };
}

export function lackingOf(types: readonly TypeToBuild[], solution: Solution): Lacking {
  const parts = partsNeeded(types).map((partId, p) => ({ partId, quantity: solution.get(lack(p)) ?? 0 }));
  const cores = types.reduce((sum, _, t) => sum + (solution.get(lackCore(t)) ?? 0), 0);
  return { parts: parts.filter(({ quantity }) => quantity > nothing), cores: Math.round(cores) };
}

const build = (t: number) => `x${t}`;
const breakUp = (t: number) => `h${t}`;
const use = (s: number, p: number) => `y${s}_${p}`;
const useBroken = (p: number) => `g${p}`;
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

/** With `lenient` a core may be lacking, and counts as such. */
function coreRows(types: readonly TypeToBuild[], lenient: boolean): string[] {
  return types.map(({ cores }, t) => `+ 1 ${build(t)} + 1 ${breakUp(t)}${lenient ? ` - 1 ${lackCore(t)}` : ''} <= ${cores}`);
}

function stockRows(types: readonly TypeToBuild[], stock: readonly FreeStock[]): string[] {
  const parts = new Map(partsNeeded(types).map((partId, p) => [partId, p]));
  const rows: string[] = [];
  for (const [s, { quantity, serves }] of stock.entries()) {
    const used = serves.flatMap((partId) => {
      const p = parts.get(partId);
      return p === undefined ? [] : [term(1, use(s, p))];
    });
    if (used.length > 0) rows.push(`${used.join(' ')} <= ${quantity}`);
  }
  for (const [partId, p] of parts) {
    const given = types.map(({ gives }, t) => term(-total(gives, partId), breakUp(t))).filter((each) => each !== '');
    rows.push(`+ 1 ${useBroken(p)} ${given.join(' ')} <= 0`);
  }
  return rows;
}

function partRows(types: readonly TypeToBuild[], stock: readonly FreeStock[], lenient: boolean): string[] {
  const servers = new Map<string, number[]>();
  for (const [s, { serves }] of stock.entries())
    for (const partId of new Set(serves)) servers.set(partId, [...(servers.get(partId) ?? []), s]);
  return partsNeeded(types).map((partId, p) => {
    const used = [...(servers.get(partId) ?? []).map((s) => term(1, use(s, p))), term(1, useBroken(p))];
    const needed = types.map(({ needs }, t) => term(-total(needs, partId), build(t))).filter((each) => each !== '');
    return `${[...used, ...(lenient ? [term(1, lack(p))] : []), ...needed].join(' ')} >= 0`;
  });
}

function lpText(
  aim: 'Maximize' | 'Minimize',
  objective: readonly string[],
  rows: readonly string[],
  bounds: readonly string[],
  types: readonly TypeToBuild[],
): string {
  const sum = objective.filter((each) => each !== '').join('\n ');
  const whole = types.flatMap((_, t) => [build(t), breakUp(t)]);
  return [
    aim,
    ` ${sum}`,
    'Subject To',
    ...rows.map((row) => ` ${row.replaceAll(/ (?=[+-] )/g, '\n  ')}`),
    ...(bounds.length === 0 ? [] : ['Bounds', ...bounds.map((bound) => ` ${bound}`)]),
    'General',
    ...whole.map((name) => ` ${name}`),
    'End',
    '',
  ].join('\n');
}
