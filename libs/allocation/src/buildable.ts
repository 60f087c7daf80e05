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
 * Most parts have stock that serves nothing else: for these y is left out, and needs(t, p) x(t) together may not pass what is free and given. Where even
 * all cores together could not ask for more, the row is left out too.
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

/** The values of a solved program by the names of its variables. */
export type Solution = ReadonlyMap<string, number>;

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
  const wants = wantsOf(workshop);
  return lpText({
    aim: 'Maximize',
    objective: [...types.map((_, t) => term(1 + cores, build(t))), ...broken.map((name) => term(-1, name))],
    rows: [...coreRows(workshop), ...donors.flatMap(inTurn), ...aloneRows(wants, types), ...sharedRows(wants)],
    whole: types.map((_, t) => build(t)),
    binary: broken,
  });
}

export function planOf({ types, donors }: Workshop, solution: Solution): Plan {
  const whole = (name: string) => Math.round(solution.get(name) ?? 0);
  return {
    builds: new Map(types.map(({ id }, t) => [id, whole(build(t))])),
    broken: new Map(donors.map((donor, d) => [donor.typeId, brokenOf(donor, d).reduce((sum, name) => sum + whole(name), 0)])),
  };
}

const build = (t: number) => `x${t}`;
const breakUp = (d: number, k: number) => `z${d}_${k}`;
const use = (s: number, p: number) => `y${s}_${p}`;

/** So much of a part a rebuild of the t-th type takes. */
interface Need {
  t: number;
  quantity: number;
}

/** A part whose stock serves nothing else that is needed. */
interface Alone {
  partId: string;
  needs: readonly Need[];
  free: number;
  /** what further cores add, as terms */
  given: readonly string[];
}

/** A part of which some stock serves another part too. */
interface Shared {
  partId: string;
  needs: readonly Need[];
  /** the names of what is used of each stock */
  used: readonly string[];
}

/** Stock that serves several parts, or one that has other stock of that kind. */
interface SharedStock {
  used: readonly string[];
  free: number;
  given: readonly string[];
}

export interface Wants {
  alone: readonly Alone[];
  shared: readonly Shared[];
  sharedStock: readonly SharedStock[];
}

/** What is needed and what there is of it, parted into what stands alone and what is shared. */
export function wantsOf({ types, stock, donors }: Workshop): Wants {
  const needs = needsByPart(types);
  const given = givenTo(donors);
  const uses = stock.map(({ serves }) => [...new Set(serves)].filter((partId) => needs.has(partId)));
  const sharing = new Set(uses.filter((partIds) => partIds.length > 1).flat());
  const numbers = new Map([...needs.keys()].map((partId, p) => [partId, p]));
  const servers = new Map<string, number[]>();
  for (const [s, partIds] of uses.entries())
    for (const partId of partIds) servers.set(partId, [...(servers.get(partId) ?? []), s]);
  const nameOf = (s: number, partId: string) => use(s, numbers.get(partId) ?? 0);
  const givenOf = (s: number) => given.get(stock[s]?.id ?? '') ?? [];
  const alone: Alone[] = [];
  const shared: Shared[] = [];
  for (const [partId, ofPart] of needs) {
    const from = servers.get(partId) ?? [];
    if (sharing.has(partId)) shared.push({ partId, needs: ofPart, used: from.map((s) => nameOf(s, partId)) });
    else {
      const free = from.reduce((sum, s) => sum + (stock[s]?.quantity ?? 0), 0);
      alone.push({ partId, needs: ofPart, free, given: from.flatMap(givenOf) });
    }
  }
  const sharedStock = uses.flatMap((partIds, s): SharedStock[] =>
    partIds.some((partId) => sharing.has(partId))
      ? [{ used: partIds.map((partId) => nameOf(s, partId)), free: stock[s]?.quantity ?? 0, given: givenOf(s) }]
      : [],
  );
  return { alone, shared, sharedStock };
}

function needsByPart(types: readonly TypeToBuild[]): Map<string, Need[]> {
  const needs = new Map<string, Need[]>();
  for (const [t, type] of types.entries()) {
    const ofType = new Map<string, number>();
    for (const { partId, quantity } of type.needs) ofType.set(partId, (ofType.get(partId) ?? 0) + quantity);
    for (const [partId, quantity] of ofType) {
      const ofPart = needs.get(partId);
      if (ofPart === undefined) needs.set(partId, [{ t, quantity }]);
      else ofPart.push({ t, quantity });
    }
  }
  return needs;
}

/** By the stock: what each further core adds to it, as terms to be taken off what is used of it. */
function givenTo(donors: readonly Donor[]): Map<string, string[]> {
  const terms = new Map<string, string[]>();
  for (const [d, { gives }] of donors.entries())
    for (const { stockId, byCores } of gives) {
      const more = byCores.map((pieces, k) => term((byCores[k - 1] ?? 0) - pieces, breakUp(d, k)));
      terms.set(stockId, [...(terms.get(stockId) ?? []), ...more.filter((each) => each !== '')]);
    }
  return terms;
}

/** The variables of a donor's cores, the first first. */
export function brokenOf({ gives }: Donor, d: number): string[] {
  const cores = Math.max(0, ...gives.map(({ byCores }) => byCores.length));
  return Array.from({ length: cores }, (_, k) => breakUp(d, k));
}

/** No core is broken before the one before it. */
export function inTurn(donor: Donor, d: number): string[] {
  return brokenOf(donor, d)
    .slice(1)
    .map((name, k) => `${term(1, name)} ${term(-1, breakUp(d, k))} <= 0`);
}

function coreRows({ types, donors }: Workshop): string[] {
  return types.map(({ id, cores }, t) => {
    const broken = donors.flatMap((donor, d) => (donor.typeId === id ? brokenOf(donor, d) : []));
    return `${[build(t), ...broken].map((name) => term(1, name)).join(' ')} <= ${cores}`;
  });
}

function aloneRows({ alone }: Wants, types: readonly TypeToBuild[]): string[] {
  return alone.flatMap(({ needs, free, given }) => {
    const most = needs.reduce((sum, { t, quantity }) => sum + quantity * (types[t]?.cores ?? 0), 0);
    if (most <= free) return [];
    return [`${[...needs.map(({ t, quantity }) => term(quantity, build(t))), ...given].join(' ')} <= ${free}`];
  });
}

function sharedRows({ shared, sharedStock }: Wants): string[] {
  const parts = shared.map(({ used, needs }) => {
    const needed = needs.map(({ t, quantity }) => term(-quantity, build(t)));
    return `${[...used.map((name) => term(1, name)), ...needed].join(' ')} >= 0`;
  });
  return [...stockRows(sharedStock), ...parts];
}

/** No stock is used beyond what is free of it and given to it. */
export function stockRows(sharedStock: readonly SharedStock[]): string[] {
  return sharedStock.map(({ used, free, given }) => `${[...used.map((name) => term(1, name)), ...given].join(' ')} <= ${free}`);
}

export function term(factor: number, name: string): string {
  return factor === 0 ? '' : `${factor < 0 ? '-' : '+'} ${Math.abs(factor)} ${name}`;
}

export interface Program {
  aim: 'Maximize' | 'Minimize';
  objective: readonly string[];
  rows: readonly string[];
  /** variables that are whole numbers, and those that are nought or one */
  whole: readonly string[];
  binary: readonly string[];
}

/** A program in CPLEX LP format, a term to a line. */
export function lpText({ aim, objective, rows, whole, binary }: Program): string {
  const variables = (heading: string, names: readonly string[]) =>
    names.length === 0 ? [] : [heading, ...names.map((name) => ` ${name}`)];
  return [
    aim,
    ` ${objective.filter((each) => each !== '').join('\n ')}`,
    'Subject To',
    ...rows.map((row) => ` ${row.replaceAll(/ (?=[+-] )/g, '\n  ')}`),
    ...variables('General', whole),
    ...variables('Binary', binary),
    'End',
    '',
  ].join('\n');
}
