import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { type Answer, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { type Made, Stock } from '../support/stock.js';

const isLong = process.env.CW_LONG === '1';
const clients = 64;
const rounds = isLong ? 1000 : 20;

jest.setTimeout(isLong ? 3_600_000 : 180_000);

interface Outcome {
  act?: string;
  code?: string;
  detail?: string;
  title?: string;
}

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let partId: string;
let jobs: Awaited<ReturnType<Stock['job']>>[];

beforeAll(async () => {
  server = await startBareServer('race');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  partId = await stock.part({ name: 'Pinion, straddle mounted' });
  jobs = [];
  // Lines with room for every round, so that nothing but the stock decides.
  for (let index = 0; index < clients; index += 1) jobs.push(await stock.job([{ partId, quantity: '5000' }]));
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await stock.close();
  await server.stop();
});

/** All clients at once, each for its own job; the answers in their order. */
function allScan(path: '/api/fits' | '/api/picks', thing: Made, quantity?: string): Promise<Answer<Outcome>[]> {
  return Promise.all(
    jobs.map((job) =>
      owner.post<Outcome>(path, { code: thing.code, jobId: job.id, ...(quantity === undefined ? {} : { quantity }) }),
    ),
  );
}

/** One was served; each of the others was told why not, in a sentence. */
function expectOneWinner(answers: Answer<Outcome>[], refusals: string[]): void {
  const statuses = answers.map((answer) => answer.status);
  expect(statuses.filter((status) => status === 200)).toHaveLength(1);
  expect(statuses.filter((status) => status === 409)).toHaveLength(clients - 1);
  for (const { status, body } of answers) {
    if (status === 200) continue;
    expect(refusals).toContain(body.code);
    expect(body.title).toMatch(/\w/);
    expect(body.detail).toMatch(/\w+ \w+ .*\.$/);
  }
}

const countersOf = async (thing: Made): Promise<{ held: string; claimed: string }> => {
  const [row] = await stock.query<{ held: string; claimed: string }>(
    'SELECT trim_scale(held)::text AS held, trim_scale(claimed)::text AS claimed FROM things WHERE id = $1',
    [thing.id],
  );
  return row!;
};

describe(`${clients} clients race, ${rounds} rounds`, () => {
  it('for the last one of a lot: one fits it, nobody twice', async () => {
    for (let round = 0; round < rounds; round += 1) {
      const lot = await stock.lot(partId, { quantity: '1' });
      expectOneWinner(await allScan('/api/fits', lot), ['none-left', 'claimed-for-another-job']);
      expect(await countersOf(lot)).toEqual({ held: '0', claimed: '0' });
      const fitted = await stock.query('SELECT quantity FROM fittings WHERE thing_id = $1', [lot.id]);
      expect(fitted).toEqual([{ quantity: '1.0000' }]);
    }
  });

  it('for the last one of a lot: one picks it, and the claim is its job’s', async () => {
    for (let round = 0; round < Math.ceil(rounds / 5); round += 1) {
      const lot = await stock.lot(partId, { quantity: '1' });
      const answers = await allScan('/api/picks', lot);
      expectOneWinner(answers, ['none-left', 'claimed-for-another-job']);
      expect(await countersOf(lot)).toEqual({ held: '1', claimed: '1' });
      const winner = jobs[answers.findIndex((answer) => answer.status === 200)]!;
      const claims = await stock.query('SELECT claimant_id, quantity FROM claims WHERE thing_id = $1 AND quantity > 0', [lot.id]);
      expect(claims).toEqual([{ claimant_id: winner.id, quantity: '1.0000' }]);
    }
  });

  it('for a whole unit: one job lays it by', async () => {
    for (let round = 0; round < Math.ceil(rounds / 5); round += 1) {
      const unit = await stock.unit();
      expectOneWinner(await allScan('/api/picks', unit), ['none-left', 'claimed-for-another-job']);
      expect(await countersOf(unit)).toEqual({ held: '1', claimed: '1' });
    }
  });

  it('for more than there is: as many are served as the lot holds, to the last', async () => {
    for (let round = 0; round < Math.ceil(rounds / 10); round += 1) {
      const lot = await stock.lot(partId, { quantity: '21' });
      const answers = await allScan('/api/fits', lot, '2');
      // Two each of twenty-one: ten are served, and the odd one stays.
      expect(answers.filter((answer) => answer.status === 200)).toHaveLength(10);
      expect(answers.filter((answer) => answer.status === 409)).toHaveLength(clients - 10);
      expect(await countersOf(lot)).toEqual({ held: '1', claimed: '0' });
    }
  });

  it('with scans of both kinds: the last one is either picked or fitted', async () => {
    for (let round = 0; round < Math.ceil(rounds / 10); round += 1) {
      const lot = await stock.lot(partId, { quantity: '1' });
      const answers = await Promise.all(
        jobs.map((job, index) =>
          owner.post<Outcome>(index % 2 === 0 ? '/api/fits' : '/api/picks', { code: lot.code, jobId: job.id }, { key: newId() }),
        ),
      );
      expectOneWinner(answers, ['none-left', 'claimed-for-another-job']);
      const { held, claimed } = await countersOf(lot);
      expect([`${held} ${claimed}`]).toEqual([
        answers.find((answer) => answer.status === 200)?.body.act === 'fitted' ? '0 0' : '1 1',
      ]);
    }
  });

  it('for the room of one line: the line takes what it needs and no more', async () => {
    for (let round = 0; round < Math.ceil(rounds / 10); round += 1) {
      const part = await stock.part();
      const job = await stock.job([{ partId: part, quantity: '3' }]);
      const lots = [];
      for (let index = 0; index < 16; index += 1) lots.push(await stock.lot(part, { quantity: '1' }));
      const answers = await Promise.all(lots.map((lot) => owner.post<Outcome>('/api/fits', { code: lot.code, jobId: job.id })));
      expect(answers.filter((answer) => answer.status === 200)).toHaveLength(3);
      expect(answers.filter((answer) => answer.body.code === 'line-is-full')).toHaveLength(13);
    }
  });
});

describe('two that want the same two things', () => {
  it('never hang in one another’s locks: picks, fits, moves and undoings of the same lots at once', async () => {
    const lots: Made[] = [];
    for (let index = 0; index < 4; index += 1) lots.push(await stock.lot(partId, { quantity: '30' }));
    const bin = await stock.place();
    const acts: string[] = [];
    for (let round = 0; round < 6; round += 1) {
      const answers = await Promise.all(
        Array.from({ length: 32 }, (_, index) => {
          const lot = lots[index % lots.length]!;
          const job = jobs[index % 3]!;
          const body = { code: lot.code, jobId: job.id, quantity: '1' };
          const act = acts[index];
          if (index % 4 === 0)
            return owner.post<Outcome & { actId: string }>('/api/put-aways', {
              code: lot.code,
              placeId: index % 8 ? bin.id : stock.placeId,
              quantity: '1',
            });
          if (index % 4 === 1 && act) return owner.post<Outcome & { actId: string }>(`/api/acts/${act}/take-back`, {});
          return owner.post<Outcome & { actId: string }>(index % 4 === 2 ? '/api/picks' : '/api/fits', body);
        }),
      );
      expect(answers.filter((answer) => answer.status >= 500)).toEqual([]);
      acts.splice(0, acts.length, ...answers.flatMap((answer) => (answer.status === 200 ? [answer.body.actId] : [])));
    }
    expect(await verifyBooks(server.database)).toEqual([]);
  });
});
