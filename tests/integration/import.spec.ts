import { jest } from '@jest/globals';
import { loadExample } from '../../apps/api/src/imports/load-example.js';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { importFiles } from '../../libs/contracts/src/imports.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { type Files, faultsIn, type SendFiles, sendFiles } from '../support/import-client.js';
import { lines, smallWorkshop } from '../support/small-workshop.js';

jest.setTimeout(120_000);

let server: BareServer;
let owner: Visitor;

beforeAll(async () => {
  server = await startBareServer('import');
  owner = await server.setUp();
});
afterAll(async () => {
  await server.stop();
});

const send = (files: Files, options: Partial<SendFiles> = {}) => sendFiles(server.url, files, { by: owner, ...options });

/** The faults of files that are tried and not taken. */
async function faultsOf(files: Files): Promise<string[]> {
  const answer = await send(files);
  expect(answer).toMatchObject({ status: 200, body: { applied: false } });
  return faultsIn(answer);
}

async function count(table: string): Promise<number> {
  return (await server.database.row<{ n: number }>(`SELECT count(*)::int AS n FROM ${table}`))?.n ?? -1;
}

const tables = [
  'makers',
  'parties',
  'places',
  'parts',
  'part_numbers',
  'relations',
  'things',
  'codes',
  'movements',
  'jobs',
  'fittings',
  'findings',
  'claims',
  'dates_given',
  'import_references',
  'expected_receipts',
];
const countAll = (): Promise<number[]> => Promise.all(tables.map(count));

describe('an import', () => {
  it('is tried without a trace, taken whole, taken once for a key, and changes nothing when it comes again', async () => {
    const before = await countAll();
    const tried = await send(smallWorkshop);
    expect(tried.body).toMatchObject({ applied: false, faultsTotal: 0, faults: [] });
    expect(await countAll()).toEqual(before);

    const key = newId();
    const taken = await send(smallWorkshop, { apply: true, key });
    expect(taken.body).toMatchObject({ applied: true, faultsTotal: 0 });
    for (const file of taken.body.files) expect(file).toMatchObject({ added: file.rows, unchanged: 0, encoding: 'UTF-8' });
    expect(taken.body.files.map(({ file }) => file)).toEqual(importFiles.filter((file) => file in smallWorkshop));
    const after = await countAll();

    const sentTwice = await send(smallWorkshop, { apply: true, key });
    expect(sentTwice.body).toEqual(taken.body);
    const otherwise = await send({ ...smallWorkshop, makers: lines('name', 'Corvane') }, { apply: true, key });
    expect(otherwise).toMatchObject({ status: 422, body: { code: 'key-used-otherwise' } });

    const again = await send(smallWorkshop, { apply: true });
    expect(again.body).toMatchObject({ applied: true, faultsTotal: 0, notes: [] });
    for (const file of again.body.files) expect(file).toMatchObject({ added: 0, unchanged: file.rows });
    expect(await countAll()).toEqual(after);
    expect(await verifyBooks(server.database)).toEqual([]);
  });

  it('wrote each thing where it came from and where it lies', async () => {
    const rows = await server.database.rows<{ reference: string; from: string; to: string; reason: string; held: string }>(`
      SELECT reference, source.kind AS from, places.name AS to, reason, trim_scale(held)::text AS held
        FROM import_references JOIN movements ON thing_id = subject_id AND to_holder_id IN (SELECT holder_id FROM places WHERE kind <> 'tray')
        JOIN holders AS source ON source.id = from_holder_id JOIN places ON places.holder_id = to_holder_id JOIN things ON things.id = thing_id
       WHERE file IN ('units', 'lots', 'unsorted') ORDER BY reference`);
    expect(rows).toEqual([
      { reference: 'S-1', from: 'count-difference', to: 'Bin 12', reason: 'opening stock', held: '4' },
      { reference: 'S-2', from: 'supplier', to: 'Bin 12', reason: 'came with its load', held: '20' },
      { reference: 'S-3', from: 'count-difference', to: 'Bin 12', reason: 'opening stock', held: '2' },
      { reference: 'S-4', from: 'supplier', to: 'Goods-in', reason: 'came with its load', held: '40' },
      { reference: 'T-1', from: 'supplier', to: 'Yard', reason: 'came with its load', held: '1' },
      { reference: 'T-2', from: 'customer', to: 'Yard', reason: 'handed in by its owner', held: '1' },
      { reference: 'X-1', from: 'supplier', to: 'Yard', reason: 'came with its load', held: '1' },
    ]);
    expect(
      await server.database.row(
        `SELECT held_back_reason AS reason FROM things JOIN lots ON thing_id = id WHERE words = 'Springs of some sort'`,
      ),
    ).toEqual({ reason: 'to be looked at' });
  });

  it('opened the job with what its type asks for and what was done on it', async () => {
    const job = await server.database.row(
      `SELECT state, priority, opened_on AS "openedOn", given, against_advice AS "against" FROM jobs JOIN dates_given ON job_id = jobs.id`,
    );
    expect(job).toEqual({ state: 'building', priority: 2, openedOn: '2024-05-01', given: '2027-02-26', against: true });
    expect(await server.database.row(`SELECT code FROM codes WHERE kind = 'J'`)).toMatchObject({
      code: expect.stringMatching(/^J000107/) as string,
    });
    const picked = await server.database.row(`SELECT trim_scale(sum(quantity))::text AS claimed FROM claims`);
    expect(picked).toEqual({ claimed: '6' });
    expect(await server.database.rows(`SELECT minutes_left AS left FROM job_operations ORDER BY number`)).toEqual([
      { left: 0 },
      { left: 480 },
    ]);
    expect(await server.database.row(`SELECT waived_reason AS why FROM job_lines WHERE line_no = 4`)).toEqual({
      why: 'Not on this one.',
    });
  });

  it('says where the books differ from a row, and leaves them as they are', async () => {
    const { body } = await send({ makers: lines('name,note', 'Brantock,Axles') }, { apply: true });
    expect(body).toMatchObject({
      applied: true,
      files: [{ added: 0, unchanged: 1 }],
      notes: [{ file: 'makers', line: 2, column: 'note', value: 'Axles' }],
    });
    expect(await server.database.row(`SELECT note FROM makers WHERE name = 'Brantock'`)).toEqual({ note: '' });
  });

  it('keeps nothing of any file when one row of one file has a fault', async () => {
    const before = await countAll();
    const { body } = await send(
      {
        makers: lines('name', 'Corvane'),
        lots: lines('reference,maker,number,quantity', 'S-9,Brantock,48-2206,3', 'S-10,Brantock,48-9999,1'),
      },
      { apply: true },
    );
    expect(body).toMatchObject({
      applied: false,
      faultsTotal: 1,
      files: [
        { file: 'makers', added: 1 },
        { file: 'lots', added: 1, faults: 1 },
      ],
    });
    expect(body.faults).toEqual([
      {
        file: 'lots',
        line: 3,
        column: 'number',
        value: '48-9999',
        words:
          'The part 48-9999 of Brantock is neither in the books nor in parts.csv. Add the row to parts.csv, or correct it here.',
      },
    ]);
    expect(await countAll()).toEqual(before);
  });

  it('shows the first 500 of many faults and counts them all', async () => {
    const rows = Array.from({ length: 700 }, (_, index) => `S-${1000 + index},Brantock,48-2206,0`);
    const { body } = await send({ lots: lines('reference,maker,number,quantity', ...rows) });
    expect(body.faultsTotal).toBe(700);
    expect(body.faults).toHaveLength(500);
  });

  it('takes ten thousand parts at once', async () => {
    const rows = Array.from({ length: 10_000 }, (_, index) => `Brantock,90-${index},Washer ${index}`);
    const { body } = await send({ parts: lines('maker,number,name', ...rows) }, { apply: true });
    expect(body).toMatchObject({ applied: true, files: [{ rows: 10_000, added: 10_000 }] });
  });
});

describe('who may bring files in', () => {
  it('keepers of the books, and people only by an owner', async () => {
    const [keeper, hand] = [
      await addPerson(server, owner, 'stores', 'tom', 'Tom Hasleby'),
      await addPerson(server, owner, 'bench', 'wilf', 'Wilf Peskett'),
    ];
    expect((await send({ makers: lines('name', 'Corvane') }, { by: hand })).status).toBe(403);
    expect((await send({ makers: lines('name', 'Corvane') }, { by: keeper })).body).toMatchObject({ faultsTotal: 0 });
    const people = lines('sign_in_name,display_name,role', 'mary,Mary Fenwright,owner');
    const refused = await send({ people }, { by: keeper, apply: true });
    expect(refused.body.faults.map(({ words }) => words)).toEqual([
      'Only an owner of the workshop adds people. Leave people.csv out, or let an owner bring it in.',
    ]);
    expect((await send({ people }, { apply: true })).body).toMatchObject({ applied: true });
  });
});

describe('what a job brings', () => {
  it('is stopped as at the bench', async () => {
    const faults = await faultsOf({
      'job-fittings': lines(
        'job,line,lot,quantity,act',
        '107,2,S-3,1,fit',
        '107,2,S-2,1,fit',
        '107,3,S-2,9,fit',
        '107,9,S-1,1,fit',
        '999,1,S-1,1,fit',
      ),
      'job-findings': lines('job,line,reused,replaced', '107,2,1,0'),
    });
    expect(faults).toEqual([
      expect.stringMatching(/^job-findings 2 reused: Pinion seal is always replaced/),
      expect.stringMatching(/^job-fittings 2 lot: Pinion seal: .*Nothing was changed\.$/),
      expect.stringMatching(/^job-fittings 3 lot: No line of this job asks for Casing stud/),
      expect.stringMatching(/^job-fittings 4 lot: /),
      expect.stringMatching(/^job-fittings 5 line: The job 107 has no line 9/),
      expect.stringMatching(/^job-fittings 6 job: The job "999" is neither in the books nor in jobs\.csv\./),
    ]);
  });

  it('does not close a job that is not finished', async () => {
    const faults = await faultsOf({
      units: lines('reference,unit_type,place', 'T-7,WD7,Yard', 'T-8,WD7,Yard'),
      jobs: lines(
        'reference,unit,build_standard,state,opened_on',
        '110,T-7,serviceable,released,2024-05-01',
        '111,T-8,serviceable,called off,2024-05-01',
        '112,T-1,serviceable,strip,2024-05-01',
      ),
      'job-fittings': lines('job,line,lot,quantity,act', '111,3,S-2,1,pick'),
    });
    expect(faults).toEqual([
      expect.stringMatching(/^jobs 4 unit: .* is on the job .* already\./),
      'jobs 2 state: 4 lines are neither fitted, re-used nor waived: 1, 2, 3, 4. Add them to job-fittings.csv, job-findings.csv or job-waivers.csv, or give another state.',
      expect.stringMatching(/^jobs 3 state: Parts are picked for this job, and it is called off/),
    ]);
  });
});

describe('what the database itself refuses', () => {
  it('is a fault of its row, and the reading goes on', async () => {
    const owned = new (await import('pg')).default.Client({ connectionString: server.testDatabase.ownerUrl });
    await owned.connect();
    await owned.query('CREATE UNIQUE INDEX one_of_a_beginning ON makers (left(name, 9))');
    const { body } = await send({ makers: lines('name', 'Pellow', 'Brantock & Sons', 'Veldrow', '') });
    expect(body).toMatchObject({ faultsTotal: 0 });
    const faults = await faultsOf({
      makers: lines('name', 'Ostrey-Kell One', 'Ostrey-Kell Two', 'Dunmarrow', 'Ostrey-Kell Three'),
    });
    await owned.query('DROP INDEX one_of_a_beginning');
    await owned.end();
    expect(faults).toEqual([
      expect.stringMatching(/^makers 3 name: There is one with these particulars already/),
      expect.stringMatching(/^makers 5 name: /),
    ]);
  });
});

describe('the example', () => {
  it('is not brought into a workshop that is set up', async () => {
    const before = await countAll();
    const said: string[] = [];
    await loadExample(server.app, (words) => said.push(words));
    expect(said).toEqual(['These are the books of Orrisden Axle & Gear: the example is not brought into them.']);
    expect(await countAll()).toEqual(before);
  });
});
