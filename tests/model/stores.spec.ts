import { jest } from '@jest/globals';
import fc from 'fast-check';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { addPerson, type BareServer, startBareServer } from '../support/bare-server.js';
import { Stock } from '../support/stock.js';
import { Giving, type Kind, kinds, type Step } from './stores-commands.js';
import { type Shop, StoresScene } from './stores-scene.js';

// The server and independent naive stores are given the same commands. They must accept and refuse the same ones, write the same
// movements and hold the same balances and labels after each; after each sequence the books conserve, and stock as it was is what a replay gives.

const isLong = process.env.CW_LONG === '1';
const sequences = isLong ? 600 : 25;
const seed = isLong ? Math.trunc(Math.random() * 2 ** 31) : 19_580_623;

jest.setTimeout(isLong ? 3_600_000 : 600_000);

let server: BareServer;
let shop: Shop;

beforeAll(async () => {
  server = await startBareServer('modelstores');
  const owner = await server.setUp();
  const other = await addPerson(server, owner, 'stores', 'ida', 'Ida Wrenfield');
  shop = { owner, other, stock: await Stock.open(server.testDatabase.ownerUrl) };
});
afterAll(async () => {
  await shop?.stock.close();
  await server.stop();
});

/** What is done more often than the rest: what the rest is done with. */
const weights: Partial<Record<Kind, number>> = {
  'take in': 4,
  pick: 4,
  condemn: 1,
  count: 8,
  'close place': 6,
  decide: 12,
  'take decision back': 6,
  'end count': 1,
};
const number = fc.nat({ max: 997 });
const step: fc.Arbitrary<Step> = fc.record({
  kind: fc.oneof(...kinds.map((kind) => ({ weight: weights[kind] ?? 3, arbitrary: fc.constant(kind as Kind) }))),
  lot: number,
  other: number,
  place: number,
  quantity: fc.constantFrom(1, 1, 1, 2, 2, 3, 4, 6, 0),
  way: number,
  suited: fc.constantFrom(true, true, true, false),
});

/** What lies there before the random commands begin. */
const beginning: Step[] = [0, 1, 2, 3, 0].map((lot, index) => ({
  ...{ kind: 'take in', lot, other: 1, place: index, quantity: 4, way: 0, suited: true },
}));

/** Gives a command to both and compares all that can be seen of it. @returns whether both accepted it; null where there was nothing to do it with */
async function run(giving: Giving, each: Step): Promise<boolean | null> {
  const { scene } = giving;
  const first = scene.naive.steps.length;
  const both = await giving.give(each);
  if (both === null) return null;
  const [sent, verdict] = both;
  const told = { step: each, code: sent.body.code, detail: sent.body.detail };
  expect({ accepted: sent.status === 200, ...told }).toEqual({ accepted: verdict !== null, ...told });
  expect({ isAnswered: sent.status < 500, ...told }).toEqual({ isAnswered: true, ...told });
  await scene.compareMovements(sent.key, verdict, first);
  await scene.compareBooks();
  return verdict !== null;
}

describe('random sequences of what happens in the stores', () => {
  it(`are taken and refused as naive stores would, ${sequences} sequences from the seed ${seed}`, async () => {
    if (isLong) process.stderr.write(`The model test of the stores runs from the seed ${seed}.\n`);
    const tally = new Map<Kind, { accepted: number; refused: number }>();
    const arbitrary = [
      fc.array(step, { minLength: 1, maxLength: 140, size: 'max' }),
      fc.array(number, { minLength: 4, maxLength: 6 }),
    ] as const;
    await fc.assert(
      fc.asyncProperty(...arbitrary, async (steps, instants) => {
        const scene = await StoresScene.make(shop);
        const giving = new Giving(scene);
        for (const each of beginning) await run(giving, each);
        for (const each of steps) {
          const accepted = await run(giving, each);
          if (accepted === null) continue;
          const count = tally.get(each.kind) ?? { accepted: 0, refused: 0 };
          count[accepted ? 'accepted' : 'refused'] += 1;
          tally.set(each.kind, count);
        }
        await scene.compareAsOf(scene.made.siteId, instants.slice(0, 2));
        await scene.compareAsOf([...scene.naive.places.keys()][1 + (instants[0]! % 5)]!, instants.slice(2));
        expect(await verifyBooks(server.database)).toEqual([]);
      }),
      {
        seed,
        numRuns: sequences,
        interruptAfterTimeLimit: isLong ? 3_300_000 : 540_000,
        markInterruptAsFailure: true,
      },
    );
    // Each kind of command was both taken and refused, or the sequences prove less than they seem to.
    expect(kinds.filter((kind) => !(tally.get(kind)?.accepted && tally.get(kind)?.refused))).toEqual([]);
  });
});
