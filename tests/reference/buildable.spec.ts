import {
  type Donor,
  type FreeStock,
  mostBuilds,
  planOf,
  type TypeToBuild,
  type Workshop,
} from '@corewright/allocation/buildable';
import { oneMoreOf } from '@corewright/allocation/lacking';
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
  .array(fc.record({ cores: fc.integer({ min: 0, max: 4 }), needs: amounts(3) }), { minLength: 1, maxLength: 3 })
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
/** What one, two, three cores give: steps of any height, up or level. */
const steps = (cores: number) =>
  fc.array(fc.integer({ min: 0, max: 2 }), { minLength: cores, maxLength: cores }).map((rises) => {
    let pieces = 0;
    return rises.map((rise) => {
      pieces += rise;
      return pieces;
    });
  });
/** Donors of the types that are built, and one of a type that is not. */
const anyDonors = fc
  .uniqueArray(fc.constantFrom('type 0', 'type 1', 'type 2', 'another type'), { maxLength: 3 })
  .chain((typeIds) =>
    fc.tuple(
      ...typeIds.map((typeId) =>
        fc
          .integer({ min: 1, max: 3 })
          .chain((cores) =>
            fc
              .uniqueArray(fc.constantFrom('stock 0', 'stock 1', 'stock 2'), { minLength: 1, maxLength: 3 })
              .chain((stockIds) =>
                fc
                  .tuple(...stockIds.map((stockId) => steps(cores).map((byCores) => ({ stockId, byCores }))))
                  .map((gives): Donor => ({ typeId, gives })),
              ),
          ),
      ),
    ),
  );
const anyWorkshop = fc.record({ types: anyTypes, stock: anyStock, donors: anyDonors });

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

function demandOf({ types }: Workshop, builds: readonly number[]): Map<string, number> {
  const demand = new Map<string, number>();
  for (const [t, { needs }] of types.entries())
    for (const { partId, quantity } of needs) demand.set(partId, (demand.get(partId) ?? 0) + quantity * builds[t]!);
  return demand;
}

/** The stock with what the broken cores have added to it. */
function stockAfter({ stock, donors }: Workshop, broken: readonly number[]): FreeStock[] {
  const added = (id: string) =>
    sum(
      donors.flatMap(({ gives }, d) =>
        gives.filter(({ stockId }) => stockId === id).map(({ byCores }) => byCores[broken[d]! - 1] ?? 0),
      ),
    );
  return stock.map((each) => ({ ...each, quantity: each.quantity + added(each.id) }));
}

/** All numbers from nought up to each of these. */
function* upTo(most: readonly number[]): Generator<number[]> {
  const [first, ...others] = most;
  if (first === undefined) return void (yield []);
  for (const rest of upTo(others)) for (let count = 0; count <= first; count += 1) yield [count, ...rest];
}

/** All ways to build on and break so many cores of each type: one that is built on is not broken. */
function* everyPlan({ types, donors }: Workshop): Generator<{ builds: number[]; broken: number[] }> {
  for (const broken of upTo(donors.map(({ gives }) => gives[0]!.byCores.length))) {
    const left = types.map(({ id, cores }) => cores - sum(donors.map(({ typeId }, d) => (typeId === id ? broken[d]! : 0))));
    if (left.every((cores) => cores >= 0)) for (const builds of upTo(left)) yield { builds, broken };
  }
}

/** Whether just so many of each can be built, whichever of the other cores are broken for it. */
function canBuild(workshop: Workshop, wanted: readonly number[]): boolean {
  for (const { builds, broken } of everyPlan(workshop))
    if (builds.every((count, t) => count === wanted[t]) && isCovered(demandOf(workshop, builds), stockAfter(workshop, broken)))
      return true;
  return false;
}

it('builds as many, and breaks as few cores for it, as a search of all plans finds (HiGHS, University of Edinburgh, against exhaustive search)', () => {
  fc.assert(
    fc.property(anyWorkshop, (workshop) => {
      let best = { builds: -1, broken: 0 };
      for (const { builds, broken } of everyPlan(workshop)) {
        if (!isCovered(demandOf(workshop, builds), stockAfter(workshop, broken))) continue;
        const [most, least] = [sum(builds), sum(broken)];
        if (most > best.builds || (most === best.builds && least < best.broken)) best = { builds: most, broken: least };
      }
      const plan = planOf(workshop, solved(mostBuilds(workshop)));
      expect({ builds: sum(plan.builds.values()), broken: sum(plan.broken.values()) }).toEqual(best);
      const builds = workshop.types.map(({ id }) => plan.builds.get(id) ?? 0);
      const broken = workshop.donors.map(({ typeId }) => plan.broken.get(typeId) ?? 0);
      expect(isCovered(demandOf(workshop, builds), stockAfter(workshop, broken))).toBe(true);
    }),
    runs,
  );
});

it('names what one more lacks: with just that added it can be built, and with a piece less it cannot', () => {
  fc.assert(
    fc.property(anyWorkshop, (workshop) => {
      const { types, stock } = workshop;
      const plan = planOf(workshop, solved(mostBuilds(workshop)));
      const wanted = types[0]!;
      const program = oneMoreOf(workshop, plan)(wanted.id);
      const { parts, cores } = program.read(program.text === null ? new Map() : solved(program.text));
      expect(cores + sum(parts.map(({ quantity }) => quantity))).toBeGreaterThan(0);
      const builds = types.map(({ id }) => (plan.builds.get(id) ?? 0) + (id === wanted.id ? 1 : 0));
      const withAdded = (less: number) => {
        const added = parts.map(({ partId, quantity }, index): FreeStock => {
          return { id: `added ${partId}`, quantity: index === 0 ? quantity - less : quantity, serves: [partId] };
        });
        const richer = types.map((type) => (type === wanted ? { ...type, cores: type.cores + cores } : type));
        return canBuild({ ...workshop, types: richer, stock: [...stock, ...added] }, builds);
      };
      expect(withAdded(0)).toBe(true);
      if (parts.length > 0) expect(withAdded(1)).toBe(false);
    }),
    runs,
  );
});
