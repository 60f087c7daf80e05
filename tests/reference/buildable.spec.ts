import { type FreeStock, lackingOf, mostBuilds, oneMore, planOf, type TypeToBuild } from '@corewright/allocation/buildable';
import fc from 'fast-check';
import loadHighs from 'highs';

const highs = await loadHighs({});
const runs = process.env.CW_LONG === '1' ? { numRuns: 2000 } : { numRuns: 60, seed: 88 };

function solved(program: string): Map<string, number> {
  const answer = highs.solve(program);
  if (answer.Status !== 'Optimal') throw new Error(`The solver says ${answer.Status} of:\n${program}`);
  return new Map(
    Object.entries(answer.Columns).map(([name, column]) => [name, 'Primal' in column ? (column.Primal as number) : 0]),
  );
}

const partIds = ['a', 'b', 'c', 'd'];
const amounts = (most: number) =>
  fc
    .uniqueArray(fc.constantFrom(...partIds), { maxLength: 3 })
    .chain((ids) =>
      fc.tuple(...ids.map((partId) => fc.record({ partId: fc.constant(partId), quantity: fc.integer({ min: 1, max: most }) }))),
    );
const anyTypes = fc
  .array(fc.record({ cores: fc.integer({ min: 0, max: 4 }), needs: amounts(3), gives: amounts(2) }), {
    minLength: 1,
    maxLength: 3,
  })
  .map((types) => types.map((type, index): TypeToBuild => ({ id: `type ${index}`, ...type })));
const anyStock = fc
  .array(
    fc.record({
      quantity: fc.integer({ min: 0, max: 5 }),
      serves: fc.uniqueArray(fc.constantFrom(...partIds), { minLength: 1, maxLength: 3 }),
    }),
    {
      maxLength: 4,
    },
  )
  .map((stock) => stock.map((each, index): FreeStock => ({ id: `stock ${index}`, ...each })));

const sum = (numbers: Iterable<number>) => [...numbers].reduce((total, each) => total + each, 0);

/** Whether so much of each part can be had of the stock: by Hall's condition for every set of parts, each counted by hand. */
function isCovered(demand: ReadonlyMap<string, number>, stock: readonly FreeStock[]): boolean {
  const parts = [...demand.keys()];
  for (let set = 1; set < 2 ** parts.length; set += 1) {
    const chosen = parts.filter((_, index) => (set >> index) % 2 === 1);
    const wanted = sum(chosen.map((partId) => demand.get(partId) ?? 0));
    const there = sum(
      stock.filter(({ serves }) => serves.some((partId) => chosen.includes(partId))).map(({ quantity }) => quantity),
    );
    if (wanted > there) return false;
  }
  return true;
}

function demandOf(types: readonly TypeToBuild[], builds: readonly number[], broken: readonly number[]): Map<string, number> {
  const demand = new Map<string, number>();
  const add = (partId: string, quantity: number) => demand.set(partId, (demand.get(partId) ?? 0) + quantity);
  for (const [t, { needs }] of types.entries()) for (const { partId, quantity } of needs) add(partId, quantity * builds[t]!);
  for (const [t, { gives }] of types.entries())
    for (const { partId, quantity } of gives) if (demand.has(partId)) add(partId, -quantity * broken[t]!);
  return new Map([...demand].map(([partId, quantity]) => [partId, Math.max(0, quantity)]));
}

/** All ways to build on and break so many cores of each type. */
function* everyPlan(types: readonly TypeToBuild[], at = 0): Generator<{ builds: number[]; broken: number[] }> {
  const type = types[at];
  if (type === undefined) return void (yield { builds: [], broken: [] });
  for (const rest of everyPlan(types, at + 1))
    for (let builds = 0; builds <= type.cores; builds += 1)
      for (let broken = 0; builds + broken <= type.cores; broken += 1)
        yield { builds: [builds, ...rest.builds], broken: [broken, ...rest.broken] };
}

/** Whether just so many of each can be built, whichever of the other cores are broken for it. */
function canBuild(types: readonly TypeToBuild[], wanted: readonly number[], stock: readonly FreeStock[]): boolean {
  for (const { builds, broken } of everyPlan(types))
    if (builds.every((count, t) => count === wanted[t]) && isCovered(demandOf(types, builds, broken), stock)) return true;
  return false;
}

it('builds as many, and breaks as few cores for it, as a search of all plans finds (HiGHS, University of Edinburgh, against exhaustive search)', () => {
  fc.assert(
    fc.property(anyTypes, anyStock, (types, stock) => {
      let best = { builds: -1, broken: 0 };
      for (const { builds, broken } of everyPlan(types)) {
        if (!isCovered(demandOf(types, builds, broken), stock)) continue;
        const [most, least] = [sum(builds), sum(broken)];
        if (most > best.builds || (most === best.builds && least < best.broken)) best = { builds: most, broken: least };
      }
      const plan = planOf(types, solved(mostBuilds(types, stock)));
      expect({ builds: sum(plan.builds.values()), broken: sum(plan.broken.values()) }).toEqual(best);
      const inOrder = (map: ReadonlyMap<string, number>) => types.map(({ id }) => map.get(id) ?? 0);
      expect(isCovered(demandOf(types, inOrder(plan.builds), inOrder(plan.broken)), stock)).toBe(true);
    }),
    runs,
  );
});

it('names what one more lacks: with just that added it can be built, and with a piece less it cannot', () => {
  fc.assert(
    fc.property(anyTypes, anyStock, (types, stock) => {
      const plan = planOf(types, solved(mostBuilds(types, stock)));
      const wanted = types[0]!;
      const { parts, cores } = lackingOf(types, solved(oneMore(types, stock, plan, wanted.id)));
      expect(cores + sum(parts.map(({ quantity }) => quantity))).toBeGreaterThan(0);
      const builds = types.map(({ id }) => (plan.builds.get(id) ?? 0) + (id === wanted.id ? 1 : 0));
      const withAdded = (less: number) => {
        const added = parts.map(({ partId, quantity }, index): FreeStock => {
          return { id: `added ${partId}`, quantity: index === 0 ? quantity - less : quantity, serves: [partId] };
        });
        const richer = types.map((type) => (type === wanted ? { ...type, cores: type.cores + cores } : type));
        return canBuild(richer, builds, [...stock, ...added]);
      };
      expect(withAdded(0)).toBe(true);
      if (parts.length > 0) expect(withAdded(1)).toBe(false);
    }),
    runs,
  );
});
