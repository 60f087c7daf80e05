import { readFile } from 'node:fs/promises';
import { jest } from '@jest/globals';
import pg from 'pg';
import type { BearingRead } from '../../libs/contracts/src/bearings.js';
import { exportFiles } from '../../libs/contracts/src/imports.js';
import { addPerson, type BareServer, startBareServer, tokenIn, type Visitor } from '../support/bare-server.js';
import { ownersPath, startExampleServer } from '../support/example-server.js';
import { type Files, faultsIn, sendFiles } from '../support/import-client.js';
import { lines } from '../support/small-workshop.js';

jest.setTimeout(180_000);

let example: BareServer;
let empty: BareServer;
let mary: Visitor;
let owner: Visitor;

beforeAll(async () => {
  example = await startExampleServer('export_from');
  mary = example.visitor();
  await mary.post('/api/sign-in-link', { token: tokenIn(await ownersPath(example)) }, { key: null });
  empty = await startBareServer('export_to');
  owner = await empty.setUp();
});
afterAll(async () => {
  await example.stop();
  await empty.stop();
});

async function taken(url: string, by: Visitor, file: string): Promise<Response> {
  return fetch(`${url}/api/exports/${file}`, { headers: { cookie: by.cookie ?? '' } });
}

async function takeAll(url: string, by: Visitor): Promise<Files> {
  const files: Files = {};
  for (const file of exportFiles) files[file] = new Uint8Array(await (await taken(url, by, file)).arrayBuffer());
  return files;
}

async function takenText(file: string): Promise<string> {
  return Buffer.from(await (await taken(example.url, mary, file)).arrayBuffer()).toString('utf8');
}

/** What no screen does: as the owner of the database. */
async function asOwner(text: string): Promise<void> {
  const client = new pg.Client({ connectionString: example.testDatabase.ownerUrl });
  await client.connect();
  await client.query(text);
  await client.end();
}

const texts = (files: Files): Record<string, string> =>
  Object.fromEntries(Object.entries(files).map(([name, bytes]) => [name, Buffer.from(bytes as Uint8Array).toString('utf8')]));

describe('files taken out', () => {
  it('say that they are CSV with headings, in UTF-8 that a spreadsheet knows as such', async () => {
    const answer = await taken(example.url, mary, 'makers');
    expect(answer.headers.get('content-type')).toBe('text/csv; charset=utf-8; header=present');
    expect(answer.headers.get('content-disposition')).toBe('attachment; filename="makers.csv"');
    expect(Buffer.from(await answer.arrayBuffer()).subarray(0, 3)).toEqual(Buffer.from([0xef, 0xbb, 0xbf]));
  });

  it('hold what a workshop has of its own', async () => {
    const own = {
      bearings: lines(
        'designation,type,bore_mm,outside_mm,width_mm,chamfer_min_mm,dynamic_rating_n,source',
        'LS 99,deep groove ball,31.75,69.85,17.4625,,12000,"Measured on two of our own"',
        '6205-2Z,deep groove ball,25,52,15.5,1,,"Measured: this one is wider"',
        '6206,deep groove ball,30,62,16,1,,the same as everybody says',
      ),
      'bearing-suffixes': lines(
        'maker,suffix,aspect,value,words,source',
        'Corvane,XQ,seals,two shields,shields on both sides,Corvane list of 1954',
        ',ZZ,seals,one shield,a shield on one side,Measured',
      ),
    };
    const { body } = await sendFiles(example.url, own, { by: mary, apply: true });
    expect(body).toMatchObject({
      applied: true,
      faultsTotal: 0,
      files: [
        { file: 'bearing-suffixes', added: 2 },
        { file: 'bearings', added: 2, unchanged: 1 },
      ],
    });
    expect(body.notes.map(({ file, line, column, words }) => `${file} ${line} ${column}: ${words}`)).toEqual([
      expect.stringMatching(/^bearing-suffixes 3 value: .*"two shields"/),
      expect.stringMatching(/^bearing-suffixes 3 words: /),
      expect.stringMatching(
        /^bearings 3 width_mm: The table that comes with the program says "15" here, by .+ Your row stands in its place/,
      ),
    ]);
    const read = await mary.get<BearingRead>('/api/bearings/read?designation=6205');
    expect(read.body.dimensions).toMatchObject({ widthMm: 15.5, source: 'Measured: this one is wider', shipped: false });
    // Things that came in without a file, one that lies in two places, and one that is held back.
    await asOwner(`DELETE FROM import_references WHERE (file, reference) IN (
      SELECT file, min(reference) FROM import_references WHERE file IN ('loads', 'units', 'lots') GROUP BY file)`);
    const parted = await example.database.row<{ code: string; placeId: string }>(`
      SELECT code, (SELECT holder_id FROM places WHERE kind = 'bin' AND holder_id <> balances.holder_id LIMIT 1) AS "placeId"
        FROM things JOIN balances ON thing_id = things.id JOIN places USING (holder_id) JOIN codes ON subject_id = things.id
       WHERE things.kind = 'L' AND quantity > 3 AND claimed = 0 AND NOT condemned AND places.kind = 'bin' ORDER BY things.id LIMIT 1`);
    expect((await mary.post('/api/put-aways', { ...parted, quantity: '2' })).status).toBe(200);
    await asOwner(`UPDATE lots SET bearing_packing = 'open-preserved', bearing_store = 'dry' WHERE thing_id = (
      SELECT thing_id FROM lots JOIN balances USING (thing_id) JOIN places USING (holder_id) JOIN parts ON parts.id = part_id
       WHERE material = 'metal' AND quantity > 0 AND places.kind = 'bin' ORDER BY thing_id LIMIT 1)`);
    await asOwner(`UPDATE things SET held_back_reason = 'to be looked at', held_back_by = (SELECT id FROM people LIMIT 1)
       WHERE id = (SELECT min(thing_id::text)::uuid FROM units)`);
    const [lots, units] = [await takenText('lots'), await takenText('units')];
    expect(lots).toMatch(/^[^,]+ \(place 2\),/m);
    expect(lots).toMatch(/^[0-9a-f]{8}-[0-9a-f-]{27},/m);
    expect(units).toContain('to be looked at');
    expect(lots).toContain(',open-preserved,dry,');
    // a maker that nobody had written down leaves in the file of makers, on which that of suffixes rests
    const suffix = {
      maker: 'Fennick & Daughters',
      suffix: 'DD',
      aspect: 'seals',
      value: 'two shields',
      words: 'shields',
      source: 'box',
    };
    expect((await mary.post('/api/bearing-tables/suffixes', suffix)).status).toBe(200);
    expect(await takenText('bearings')).toBe(
      [
        '\ufeffdesignation,type,bore_mm,outside_mm,width_mm,chamfer_min_mm,dynamic_rating_n,source',
        '6205,deep groove ball,25,52,15.5,1,,Measured: this one is wider',
        'LS99,deep groove ball,31.75,69.85,17.4625,,12000,Measured on two of our own',
        '',
      ].join('\r\n'),
    );
  });

  it('change nothing where they came from', async () => {
    const answer = await sendFiles(example.url, await takeAll(example.url, mary), { by: mary, apply: true });
    expect(faultsIn(answer)).toEqual([]);
    expect(answer.body).toMatchObject({ applied: true, faultsTotal: 0, notes: [] });
    for (const file of answer.body.files) expect(file).toMatchObject({ added: 0, unchanged: file.rows });
    expect(answer.body.files.find(({ file }) => file === 'parts')?.rows).toBeGreaterThanOrEqual(120);
  });

  it('fill an empty workshop, and are the same when they are taken out of that', async () => {
    const files = await takeAll(example.url, mary);
    // Whoever holds something back is named by the name with which they sign in, which is taken out with no file.
    const people = await readFile(new URL('../../seed/people.csv', import.meta.url), 'utf8');
    const answer = await sendFiles(empty.url, { people, ...files }, { by: owner, apply: true });
    expect(answer.body).toMatchObject({ applied: true, faultsTotal: 0 });
    expect(texts(await takeAll(empty.url, owner))).toEqual(texts(files));
  });

  it('hold nothing that a spreadsheet would run, and bring it back as it was', async () => {
    const maker = `=HYPERLINK("x"), & Sons`;
    const rows = ['name,note', `"=HYPERLINK(""x""), & Sons",'-old`, `@Home,"+1, two`, `lines"`].join('\n');
    expect((await sendFiles(empty.url, { makers: rows }, { by: owner, apply: true })).body).toMatchObject({ applied: true });
    const [row] = await empty.database.rows<{ note: string }>('SELECT note FROM makers WHERE name = $1', [maker]);
    expect(row).toEqual({ note: '-old' });
    const text = texts({ makers: new Uint8Array(await (await taken(empty.url, owner, 'makers')).arrayBuffer()) }).makers ?? '';
    expect(text).toContain(`"'=HYPERLINK(""x""), & Sons",'-old\r\n`);
    expect(text).toContain(`'@Home,"'+1, two\nlines"\r\n`);
    const again = await sendFiles(empty.url, { makers: text }, { by: owner, apply: true });
    expect(again.body).toMatchObject({ applied: true, notes: [], files: [{ added: 0 }] });
  });

  it('are for those who keep the stores, and of the names that there are', async () => {
    const viewer = await addPerson(empty, owner, 'viewer', 'lew', 'Lew Harrowby');
    expect((await taken(empty.url, viewer, 'makers')).status).toBe(403);
    expect((await taken(empty.url, owner, 'sessions')).status).toBe(422);
  });
});
