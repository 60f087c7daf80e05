import { jest } from '@jest/globals';
import type * as z from 'zod';
import { bringExampleIn, loadExample } from '../../apps/api/src/imports/load-example.js';
import { makeWorkshop } from '../../apps/api/src/people/make-workshop.js';
import { SignInLinks } from '../../apps/api/src/people/sign-in-links.js';
import { withinTransaction } from '../../apps/api/src/people/within-transaction.js';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { JobState } from '../../libs/contracts/src/base.js';
import type { ConsumableList as ConsumableListSchema, ToBuy } from '../../libs/contracts/src/consumables.js';
import type { CountHits, CountList, CountPage } from '../../libs/contracts/src/counting.js';
import type { ImportReport } from '../../libs/contracts/src/imports.js';
import type { JobCard } from '../../libs/contracts/src/jobs.js';
import { type BareServer, startBareServer, tokenIn, type Visitor } from '../support/bare-server.js';

type ConsumableList = z.infer<typeof ConsumableListSchema>;

jest.setTimeout(120_000);

let server: BareServer;
let owner: Visitor;
const said: string[] = [];

beforeAll(async () => {
  server = await startBareServer('example');
  await loadExample(server.app, (words) => said.push(words));
  owner = server.visitor();
  await owner.post(
    '/api/sign-in-link',
    { token: tokenIn(await server.app.get(SignInLinks).pathForTerminal(true)) },
    { key: null },
  );
});
afterAll(async () => {
  await server.stop();
});

async function count(text: string): Promise<number> {
  return (await server.database.row<{ n: number }>(`SELECT count(*)::int AS n ${text}`))?.n ?? -1;
}

describe('the example workshop', () => {
  it('comes in whole and says so', () => {
    expect(said.at(-1)).toMatch(/^Brought in \d+ rows of 34 files in [\d.]+ s\.$/);
  });

  it('has at least three unit types with 25 to 60 lines each', async () => {
    const types = await server.database.rows<{ lines: number }>(
      'SELECT count(*)::int AS lines FROM unit_type_lines GROUP BY unit_type_id',
    );
    expect(types.filter(({ lines }) => lines >= 25 && lines <= 60).length).toBeGreaterThanOrEqual(3);
  });

  it.each([
    ['parts', 120, 'FROM parts'],
    ['part numbers', 250, 'FROM part_numbers'],
    ['relations', 15, 'FROM relations'],
    ['units', 70, 'FROM units'],
    ['lots', 350, 'FROM lots'],
    ['lots of old stock', 60, `FROM lots WHERE source = 'old stock'`],
    ['jobs', 14, 'FROM jobs'],
    ['orders expected', 20, 'FROM expected_receipts'],
  ])('has %s, at least %i', async (_what, least, text) => {
    expect(await count(text)).toBeGreaterThanOrEqual(least);
  });

  it('has old stock with packet dates of every precision', async () => {
    const rows = await server.database.rows<{ precision: string }>(
      `SELECT DISTINCT packet_precision AS precision FROM lots WHERE source = 'old stock'`,
    );
    expect(rows.map(({ precision }) => precision).toSorted()).toEqual(['day', 'month', 'quarter', 'unknown', 'year']);
  });

  it('has jobs in every state', async () => {
    const rows = await server.database.rows<{ state: string }>('SELECT DISTINCT state FROM jobs');
    expect(rows.map(({ state }) => state).toSorted()).toEqual(JobState.options.toSorted());
  });

  it('moves days by whole weeks, so that loads were bought before today and packets stay as they were read', async () => {
    expect(await count('FROM loads WHERE bought_on > current_date')).toBe(0);
    // 9 March 2024, in the file, was a Saturday.
    expect(await count('FROM loads WHERE number = 38 AND extract(isodow FROM bought_on) = 6')).toBe(1);
    expect(await count(`FROM jobs WHERE opened_on > current_date`)).toBe(0);
    expect(await count(`FROM lots WHERE packet_read = '12 Mar 1949' AND packet_earliest = '1949-03-12'`)).toBeGreaterThan(0);
  });

  it('keeps the numbers that the workshop gave its loads and jobs', async () => {
    expect(await count(`FROM loads WHERE number = 61`)).toBe(1);
    const codes = await server.database.rows<{ code: string }>(`SELECT code FROM codes WHERE kind = 'J' ORDER BY code`);
    expect(codes.map(({ code }) => code.slice(0, 7))).toEqual(
      [95, 96, 97, 98, 99, 100, 101, 102, 103, 104, 105, 106, 107, 108].map((number) => `J${String(number).padStart(6, '0')}`),
    );
  });

  it('leaves no place where the books and their movements differ', async () => {
    expect(await verifyBooks(server.database)).toEqual([]);
  });

  it('has consumables of which one is open and one past its use-by, and two parts below their minimum', async () => {
    const { consumables } = (await owner.get<ConsumableList>('/api/consumables')).body;
    expect(consumables).toHaveLength(4);
    expect(consumables.flatMap(({ open }) => open)).toHaveLength(1);
    expect(consumables.flatMap(({ full }) => full).filter(({ useBy }) => useBy.past)).toHaveLength(1);
    const rows = (await owner.get<ToBuy>('/api/to-buy')).body.suppliers.flatMap((each) => each.rows);
    expect(rows.map(({ part }) => part.number).toSorted()).toEqual(['MJ 7', 'S11-220']);
    expect(await count('FROM kept_for_jobs WHERE lifted_at IS NULL')).toBe(2);
  });

  it('has three counts with differing shares of what agreed, in several months, and one under way', async () => {
    const { months, counts } = (await owner.get<CountHits>('/api/count-hits')).body;
    expect(months.length).toBeGreaterThanOrEqual(2);
    expect(counts.map(({ title, right, counted }) => [title, counted - right])).toEqual([
      ['Stores, Rack 5', 1],
      ['Stores, Rack 4', 2],
      ['Stores, Rack 3', 5],
    ]);
    for (const { counted } of counts) expect(counted).toBeGreaterThan(15);
    expect(new Set(counts.map(({ rate }) => rate)).size).toBe(3);
    const { open, ended } = (await owner.get<CountList>('/api/counts')).body;
    expect(open.map(({ title, begunBy }) => [title, begunBy])).toEqual([['Stores, Rack 2, Bin 17', 'Tom Hasleby']]);
    expect(ended.map(({ endingWords }) => endingWords)).toEqual(['Edie Marrack', 'Edie Marrack', 'Edie Marrack']);
    const { body: count } = await owner.get<CountPage>(`/api/counts/${open[0]?.id}`);
    expect(count.places).toMatchObject([{ people: ['Tom Hasleby'], closedAt: null }]);
    expect(count.findings).toMatchObject([{ words: 'a twist of small springs in newspaper', ended: null }]);
  });

  it('has one rare job with exactly two critical lines that nothing covers, and no date for it', async () => {
    const job = await server.database.row<{ id: string }>(
      `SELECT subject_id AS id FROM import_references WHERE file = 'jobs' AND reference = '107'`,
    );
    const { status, body } = await owner.get<JobCard>(`/api/jobs/${job?.id}`);
    expect(status).toBe(200);
    const lacking = body.coverage.lines.filter((line) => line.stops);
    expect(lacking.map((line) => line.part.number).toSorted()).toEqual(['48-2201', '48-2217']);
    expect(body.coverage.advice).toMatchObject({ kind: 'none', date: null });
  });

  it('changes nothing when it is brought in again', async () => {
    const tables = [
      'things',
      'movements',
      'codes',
      'parts',
      'part_numbers',
      'relations',
      'places',
      'jobs',
      'fittings',
      'findings',
      'dates_given',
      'expected_receipts',
      'load_rows',
    ];
    const before = await Promise.all(tables.map((table) => count(`FROM ${table}`)));
    const report: ImportReport = await bringExampleIn(server.app);
    expect(report).toMatchObject({ applied: true, faultsTotal: 0, notes: [] });
    for (const file of report.files) expect(file).toMatchObject({ added: 0, unchanged: file.rows });
    expect(await Promise.all(tables.map((table) => count(`FROM ${table}`)))).toEqual(before);
    const words = said.length;
    await loadExample(server.app, (more) => said.push(more));
    expect(said).toHaveLength(words);
  });
});

describe('a loading that broke off', () => {
  it('is taken up again when the server starts next', async () => {
    const other = await startBareServer('broken');
    const owner = { id: newId(), signInName: 'mary', displayName: 'Mary Fenwright', passPhraseHash: null };
    const workshop = {
      name: 'Orrisden Axle & Gear',
      timeZone: 'Europe/London',
      locale: 'en-GB',
      currency: 'GBP',
      isExample: true,
      owner,
    };
    await withinTransaction(other.database, (transaction) => makeWorkshop(transaction, workshop));
    const words: string[] = [];
    await loadExample(other.app, (more) => words.push(more));
    expect(words.at(-1)).toMatch(/^Brought in \d+ rows/);
    await other.stop();
  });
});
