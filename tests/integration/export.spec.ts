import { jest } from '@jest/globals';
import { exportFiles } from '../../libs/contracts/src/imports.js';
import { addPerson, type BareServer, startBareServer, tokenIn, type Visitor } from '../support/bare-server.js';
import { ownersPath, startExampleServer } from '../support/example-server.js';
import { type Files, sendFiles } from '../support/import-client.js';

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

const texts = (files: Files): Record<string, string> =>
  Object.fromEntries(Object.entries(files).map(([name, bytes]) => [name, Buffer.from(bytes as Uint8Array).toString('utf8')]));

describe('files taken out', () => {
  it('say that they are CSV with headings, in UTF-8 that a spreadsheet knows as such', async () => {
    const answer = await taken(example.url, mary, 'makers');
    expect(answer.headers.get('content-type')).toBe('text/csv; charset=utf-8; header=present');
    expect(answer.headers.get('content-disposition')).toBe('attachment; filename="makers.csv"');
    expect(Buffer.from(await answer.arrayBuffer()).subarray(0, 3)).toEqual(Buffer.from([0xef, 0xbb, 0xbf]));
  });

  it('change nothing where they came from', async () => {
    const answer = await sendFiles(example.url, await takeAll(example.url, mary), { by: mary, apply: true });
    expect(answer.body).toMatchObject({ applied: true, faultsTotal: 0, notes: [] });
    for (const file of answer.body.files) expect(file).toMatchObject({ added: 0, unchanged: file.rows });
    expect(answer.body.files.find(({ file }) => file === 'parts')?.rows).toBeGreaterThanOrEqual(120);
  });

  it('fill an empty workshop, and are the same when they are taken out of that', async () => {
    const files = await takeAll(example.url, mary);
    const answer = await sendFiles(empty.url, files, { by: owner, apply: true });
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
    const viewer = await addPerson(empty, owner, 'viewer', 'wilf', 'Wilf Peskett');
    expect((await taken(empty.url, viewer, 'makers')).status).toBe(403);
    expect((await taken(empty.url, owner, 'sessions')).status).toBe(422);
  });
});
