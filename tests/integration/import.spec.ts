import { once } from 'node:events';
import { readFile } from 'node:fs/promises';
import http from 'node:http';
import { jest } from '@jest/globals';
import { readers } from '../../apps/api/src/imports/readers.js';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { ImportReport } from '../../libs/contracts/src/imports.js';
import { importFiles } from '../../libs/contracts/src/imports.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { lines, smallWorkshop } from '../support/small-workshop.js';

jest.setTimeout(120_000);

type Files = Record<string, string | Uint8Array<ArrayBuffer>>;
interface Answer {
  status: number;
  body: ImportReport & { code: string; detail: string };
}

let server: BareServer;
let owner: Visitor;

beforeAll(async () => {
  server = await startBareServer('import');
  owner = await server.setUp();
});
afterAll(async () => {
  await server.stop();
});

async function send(files: Files, { apply = false, key = newId(), by = owner } = {}): Promise<Answer> {
  const form = new FormData();
  for (const [name, content] of Object.entries(files)) form.append(name, new Blob([content]), `${name}.csv`);
  const response = await fetch(`${server.url}/api/imports?apply=${apply ? 'yes' : 'no'}`, {
    method: 'POST',
    headers: { cookie: by.cookie ?? '', 'idempotency-key': key },
    body: form,
  });
  return { status: response.status, body: (await response.json()) as Answer['body'] };
}

/** The faults of one file, tried against the small workshop. */
async function faultsOf(files: Files): Promise<string[]> {
  const { status, body } = await send(files);
  expect(status).toBe(200);
  expect(body.applied).toBe(false);
  return body.faults.map(({ file, line, column, words }) => `${file} ${line} ${column}: ${words}`);
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

describe('the bytes of a file', () => {
  const latin = (text: string): Uint8Array<ArrayBuffer> =>
    Uint8Array.from(text, (character) => (character === '’' ? 0x92 : character.charCodeAt(0)));

  it('are read as UTF-8 with a byte-order mark', async () => {
    const { body } = await send({ makers: `\ufeff${lines('name,note', 'Orve,Œuvre ½')}` }, { apply: true });
    expect(body).toMatchObject({ applied: true, files: [{ encoding: 'UTF-8 with a byte-order mark' }] });
    expect(await server.database.row(`SELECT note FROM makers WHERE name = 'Orve'`)).toEqual({ note: 'Œuvre ½' });
  });

  it('are read as Windows-1252 where they are no UTF-8, and the report says so', async () => {
    const { body } = await send({ makers: latin(lines('name,note', 'Strélow,Edie’s ½ inch')) }, { apply: true });
    expect(body).toMatchObject({ applied: true, files: [{ encoding: 'Windows-1252' }] });
    expect(await server.database.row(`SELECT note FROM makers WHERE name = 'Strélow'`)).toEqual({ note: 'Edie’s ½ inch' });
  });

  it('are refused in words where they are UTF-16, or a workbook', async () => {
    const utf16 = Uint8Array.from(Buffer.from(`\ufeff${lines('name', 'Corvane')}`, 'utf16le'));
    expect(await faultsOf({ makers: utf16 })).toEqual([expect.stringContaining('it looks like UTF-16')]);
    expect(await faultsOf({ makers: Uint8Array.from(Buffer.from('PK\u0003\u0004rest')) })).toEqual([
      expect.stringContaining('a workbook of a spreadsheet, not CSV'),
    ]);
  });

  it('may have quotes across lines, any line ends and empty lines, and the line numbers stay right', async () => {
    const text = 'name,note\r\n"Corvane","one\r\ntwo, ""three"""\r\n\r\nBad,"open ""\r\n",\r\n';
    expect(await faultsOf({ makers: text })).toEqual([
      expect.stringMatching(/^makers 5 : This row has 3 cells and there are 2 headings\./),
    ]);
    const { body } = await send({ makers: 'name,note\rCorvane,"one\rtwo, ""three"""\r' }, { apply: true });
    expect(body).toMatchObject({ applied: true, files: [{ rows: 1 }] });
    expect(await server.database.row(`SELECT note FROM makers WHERE name = 'Corvane'`)).toEqual({ note: 'one\rtwo, "three"' });
  });

  it.each([
    ['a quotation mark within a cell', 'name,note\nA,3/8" bolt\n', /^makers 2 : A quotation mark stands inside a cell\./],
    ['text after the closing one', 'name,note\nA,\nB,"x" y\n', /^makers 3 : A quotation mark ends before its cell does\./],
    [
      'one that nobody closes',
      'name,note\nA,"x\nB,\n',
      /^makers 2 : A quotation mark opens on this line or soon after it, and none closes it\./,
    ],
  ])('break off at %s', async (_what, text, words) => {
    expect(await faultsOf({ makers: text })).toEqual([expect.stringMatching(words)]);
  });
});

describe('the headings', () => {
  it.each([
    ['nothing at all', '', /^makers 1 : The file is empty\. Its first line is the headings: name, note\./],
    ['semicolons', 'name;note\nA;B\n', /^makers 1 : The cells are parted by semicolons\./],
    [
      'a column that is not read',
      'name,remark\nA,B\n',
      /^makers 1 remark: There is no column "remark" in makers\.csv\. Its columns are: name, note\./,
    ],
    ['a column twice', 'name,note,Name\nA,B,C\n', /^makers 1 name: There are several columns "name"\./],
    ['a column lacking', 'note\nB\n', /^makers 1 name: The column "name" is missing\./],
  ])('are refused with %s', async (_what, text, words) => {
    expect(await faultsOf({ makers: text })).toEqual([expect.stringMatching(words)]);
  });

  it('may stand in any order and case, and those that may be empty may be left out', async () => {
    expect(await faultsOf({ firms: lines('Supplier, NAME', 'yes,Veldrow Bearings') })).toEqual([]);
  });
});

describe('a cell', () => {
  const lot = (cells: string): Files => ({ lots: lines('reference,maker,number,quantity,packet_date', cells) });
  const load = (day: string): Files => ({ loads: lines('reference,words,seller,bought_on', `90,Axles,Trewin's,${day}`) });

  it.each([
    [
      'a day that no calendar has',
      load('31/2/1950'),
      /^loads 2 bought_on: 31 Feb is not a date: February 1950 has 28 days\. Write year-month-day/,
    ],
    [
      'a day written otherwise',
      load('3/2/1950'),
      /^loads 2 bought_on: "3\/2\/1950" is not written as this is read\. Write year-month-day, such as 1950-02-03/,
    ],
    ['a day to come', load('2199-01-01'), /^loads 2 bought_on: This day is yet to come\./],
    ['no quantity', lot('S-20,Brantock,48-2206,0,'), /^lots 2 quantity: Nought moves nothing\./],
    ['less than nothing', lot('S-20,Brantock,48-2206,-2,'), /^lots 2 quantity: A quantity is more than nought\./],
    ['half of what comes whole', lot('S-20,Brantock,48-2206,1.5,'), /^lots 2 quantity: Each comes whole\. Key 1 or 2\./],
    ['too fine a length', lot('S-20,Brantock,48-2290,0.00001,'), /^lots 2 quantity: "0\.00001" is too fine\./],
    [
      'a quantity that a spreadsheet shortened',
      lot('S-20,Brantock,48-2206,1.20E+04,'),
      /^lots 2 quantity: A spreadsheet has shortened this number/,
    ],
    [
      'a number that a spreadsheet shortened',
      lot('S-20,Brantock,4.82E+11,1,'),
      /^lots 2 number: A spreadsheet has shortened this number/,
    ],
    ['an error of a spreadsheet', lot('#REF!,Brantock,48-2206,1,'), /^lots 2 reference: A spreadsheet left its own error here\./],
    ['a packet date that cannot be', lot('S-20,Brantock,48-2206,1,30 Feb 1956'), /^lots 2 packet_date: 30 Feb is not a date/],
    ['nothing where something is needed', lot(',Brantock,48-2206,1,'), /^lots 2 reference: This cannot be left empty\./],
    ['a maker without a number', lot('S-20,Brantock,,1,'), /^lots 2 number: A part is known by its maker and number together\./],
    [
      'a maker that nobody knows',
      { parts: lines('maker,number,name', 'Nobody,1,Nut') },
      /^parts 2 maker: The maker "Nobody" is neither in the books nor in makers\.csv\./,
    ],
    [
      'a place that nobody knows',
      { unsorted: lines('reference,words,place', 'X-9,Nuts,Loft/Shelf 1') },
      /^unsorted 2 place: The place "Loft\/Shelf 1" is neither/,
    ],
    [
      'a word that is none of those read',
      { grades: lines('scale,letter,rank,meaning', 'unit,C,3,x') },
      /^grades 2 scale: This is one of: core, part\./,
    ],
    [
      'a rank that is taken',
      { grades: lines('scale,letter,rank,meaning', 'core,C,2,x') },
      /^grades 2 rank: Grade B has this rank already\./,
    ],
    [
      'rubber in metal',
      { parts: lines('maker,number,name,material,polymer', 'Brantock,1-1,Nut,metal,NBR') },
      /^parts 2 polymer: Only rubber has a kind of rubber\./,
    ],
    [
      'a character that no page shows',
      { makers: lines('name', 'Bran\u0007tock') },
      /^makers 2 name: There are characters in it that no page shows\./,
    ],
    [
      "another part's number",
      { 'part-numbers': lines('part_maker,part_number,maker,number', 'Brantock,48-2206,Halloran Seals,HS 2230') },
      /^part-numbers 2 number: This maker's number is that of another part already: Pinion seal, 48-2230\./,
    ],
    [
      'operations in a circle',
      {
        'unit-types': lines('reference,maker,kind,model', 'W,Brantock,Axle,W'),
        'unit-type-operations': lines('unit_type,number,name,minutes,after', 'W,10,Strip,1,20', 'W,20,Build,1,10'),
      },
      /^unit-type-operations 3 after: These operations wait for one another: /,
    ],
    [
      'a firm that plays no such part',
      { loads: lines('reference,words,seller,bought_on', '90,Axles,R. Sandiman,2024-01-01') },
      /^loads 2 seller: R\. Sandiman is not known as a supplier\./,
    ],
  ] as [string, Files, RegExp][])('with %s is a fault in words', async (_what, files, words) => {
    expect(await faultsOf(files)).toEqual([expect.stringMatching(words)]);
  });

  it('that looks like a date which was a number is pointed out and taken', async () => {
    const { body } = await send({ parts: lines('maker,number,name', 'Brantock,12-May,Nut') });
    expect(body).toMatchObject({ faultsTotal: 0, notes: [{ column: 'number', value: '12-May' }] });
  });

  it('that names a faulty row says so, and a row that is there twice names the first', async () => {
    const faults = await faultsOf({
      parts: lines('maker,number,name,unit', 'Brantock,77-1,Nut,dozen', 'Brantock,77-2,Bolt,each', 'brantock,77-2,Bolt,each'),
      lots: lines('reference,maker,number,quantity', 'S-30,Brantock,77-1,4'),
    });
    expect(faults).toEqual([
      'parts 2 unit: This is one of: each, mm, m, g.',
      'parts 4 number: Line 3 is for the same maker, number already. Put the two together, or correct one.',
      'lots 2 number: The part 77-1 of Brantock is on line 2 of parts.csv, which has faults. Mend that line first.',
    ]);
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

/** An upload whose bytes are made as they go out; `bytesSaid` is what its heading says of its length. */
async function upload(
  bytesSaid: number,
  pieces: Iterable<string | Buffer>,
): Promise<{ status: number | undefined; body: unknown }> {
  const request = http.request(`${server.url}/api/imports?apply=no`, {
    agent: false,
    method: 'POST',
    headers: {
      cookie: owner.cookie ?? '',
      'idempotency-key': newId(),
      'content-type': 'multipart/form-data; boundary=x',
      'content-length': String(bytesSaid),
    },
  });
  const answered = once(request, 'response') as Promise<[http.IncomingMessage]>;
  for (const piece of pieces) if (!request.write(piece)) await Promise.race([once(request, 'drain'), answered]);
  const [response] = await answered;
  let text = '';
  for await (const piece of response) text += String(piece);
  request.destroy();
  return { status: response.statusCode, body: JSON.parse(text) };
}

describe('an upload', () => {
  const megabyte = 1024 * 1024;
  const heading = '--x\r\nContent-Disposition: form-data; name="parts"; filename="parts.csv"\r\n\r\n';

  it('of a file above the limit is refused with the limit', async () => {
    const pieces = [heading, ...Array.from({ length: 65 }, () => Buffer.alloc(megabyte, 'a')), '\r\n--x--'];
    const answer = await upload(
      pieces.reduce((sum, piece) => sum + piece.length, 0),
      pieces,
    );
    expect(answer).toMatchObject({
      status: 413,
      body: { code: 'too-large', detail: expect.stringContaining('The file parts.csv is larger than 64 MB') as string },
    });
  });

  it('that says it is 2 GB is refused before it is read', async () => {
    const words = 'This upload is 2048 MB; at most 512 MB are taken at once, 64 MB a file.';
    expect(await upload(2048 * megabyte, [heading])).toMatchObject({
      status: 413,
      body: { code: 'too-large', detail: expect.stringContaining(words) as string },
    });
  });

  it.each([
    ['no file', {}, /^No file came with this\./],
    ['a file that is not read', { stock: 'a\n' }, /^There is no file "stock" among those that are read\./],
  ] as [string, Files, RegExp][])('with %s is refused', async (_what, files, words) => {
    expect(await send(files)).toMatchObject({
      status: 422,
      body: { code: 'bad-input', detail: expect.stringMatching(words) as string },
    });
  });

  it('that is no upload at all is refused', async () => {
    expect((await owner.post('/api/imports?apply=no', {})).status).toBe(422);
  });
});

describe('docs/imports.md', () => {
  it('documents the files and columns that are read, in their order, and which of them are always filled', async () => {
    const text = await readFile(new URL('../../docs/imports.md', import.meta.url), 'utf8');
    const documented = text
      .split(/^### /m)
      .slice(1)
      .map((section) => ({
        file: /^([a-z-]+)\.csv/.exec(section)?.[1],
        columns: [...section.matchAll(/^\| `([a-z_]+)` *\| (yes)? *\|/gm)].map(([, name, filled]) => ({
          name,
          filled: filled === 'yes',
        })),
      }));
    expect(documented).toEqual(readers.map(({ file, columns }) => ({ file, columns })));
    expect(readers.map(({ file }) => file)).toEqual([...importFiles]);
  });

  it('shows examples that are read', async () => {
    const text = await readFile(new URL('../../docs/imports.md', import.meta.url), 'utf8');
    for (const section of text.split(/^### /m).slice(1)) {
      const example = /```csv\n([^`]+)```/.exec(section)?.[1] ?? '';
      const file = /^([a-z-]+)\.csv/.exec(section)?.[1] ?? '';
      const { body } = await send({ [file]: example });
      expect({
        file,
        faults: body.faults.filter(({ words, line }) => line === 1 || !/in the books|has no line|has no operation/.test(words)),
      }).toEqual({ file, faults: [] });
    }
  });
});
