import { once } from 'node:events';
import { readFile } from 'node:fs/promises';
import http from 'node:http';
import { jest } from '@jest/globals';
import { readers } from '../../apps/api/src/imports/readers.js';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { importFiles } from '../../libs/contracts/src/imports.js';
import { type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { type Files, faultsIn, type SendFiles, sendFiles } from '../support/import-client.js';
import { lines, smallWorkshop } from '../support/small-workshop.js';

jest.setTimeout(120_000);

let server: BareServer;
let owner: Visitor;

beforeAll(async () => {
  server = await startBareServer('importfiles');
  owner = await server.setUp();
  expect(faultsIn(await send(smallWorkshop, { apply: true }))).toEqual([]);
});
afterAll(async () => {
  await server.stop();
});

const send = (files: Files, options: Partial<SendFiles> = {}) => sendFiles(server.url, files, { by: owner, ...options });

const related = (...rows: string[]): string =>
  lines('from_maker,from_number,kind,to_maker,to_number,since,conditions,evidence,evidence_words', ...rows);

/** The faults of files that are tried and not taken. */
async function faultsOf(files: Files): Promise<string[]> {
  const answer = await send(files);
  expect(answer).toMatchObject({ status: 200, body: { applied: false } });
  return faultsIn(answer);
}

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
    [
      'a day that may be read both ways',
      load('3/4/1994'),
      /^loads 2 bought_on: "3\/4\/1994" is not .* It may be 1994-04-03 or 1994-03-04: look at what it was copied from\.$/,
    ],
    ['a day before the trade', load('1879-12-31'), /^loads 2 bought_on: This is before 1880\. Look at the date again\./],
    [
      'a year before the trade',
      { 'part-numbers': lines('part_maker,part_number,maker,number,year_first', 'Brantock,48-2206,Brantock,48-1,1879') },
      /^part-numbers 2 year_first: Key a year from 1880 to \d{4}, or leave it empty\./,
    ],
    [
      'a year to come',
      { 'part-numbers': lines('part_maker,part_number,maker,number,year_last', 'Brantock,48-2206,Brantock,48-1,2199') },
      /^part-numbers 2 year_last: Key a year from 1880 to \d{4}, or leave it empty\./,
    ],
    [
      'a relation from before the trade',
      { relations: related('Brantock,48-2290,supersession,Brantock,48-2206,1879,,catalogue,page 2') },
      /^relations 2 (since|to_number): /,
    ],
    [
      'a relation from a day to come',
      { relations: related('Brantock,48-2290,supersession,Brantock,48-2206,2199,,catalogue,page 2') },
      /^relations 2 to_number: 2199 is still to come\./,
    ],
    [
      'a decimal comma',
      lot('S-20,Brantock,48-2290,"1,5",'),
      /^lots 2 quantity: "1,5" has a comma\. Key a point for the decimals/,
    ],
    [
      'a maker that is nearly one that is known',
      { parts: lines('maker,number,name', 'Brantok,1,Nut') },
      /^parts 2 maker: The maker "Brantok" is neither .* Known and alike: Brantock\.$/,
    ],
    [
      'a number whose zeros a spreadsheet took',
      {
        parts: lines('maker,number,name', 'Brantock,00481,Nut'),
        lots: lines('reference,maker,number,quantity', 'S-20,Brantock,481,1'),
      },
      /^lots 2 number: The part 481 of Brantock is neither .* This maker's 00481 is the same but for zeros before it, which a spreadsheet takes away/,
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
      /^part-numbers 2 number: HS 2230 of Halloran Seals is the number of Pinion seal already\. One number of a maker is one part\./,
    ],
    [
      'a part related to itself',
      { relations: related('Brantock,48-2230,same as,Halloran Seals,HS 2230,,,told,by nobody') },
      /^relations 2 to_number: 48-2230 cannot be related to itself\./,
    ],
    [
      'numbers that supersede one another in a circle',
      {
        relations: related(
          'Brantock,48-2290,supersession,Brantock,48-2217,1938,,catalogue,page 2',
          'Brantock,48-2206,supersession,Brantock,48-2290,1951,,catalogue,page 3',
        ),
      },
      /^relations 3 to_number: 48-2206 would come to supersede itself: 48-2206, then 48-2290, then 48-2217, then 48-2206\./,
    ],
    [
      'a piece of a kit that nobody knows',
      { relations: related('Brantock,48-2290,supersession,Brantock,48-2206; 48-9,1938,,catalogue,page 2') },
      /^relations 2 to_number: "48-9" is not the number of one part of this maker\./,
    ],
    [
      'a kit that has more makers than numbers',
      {
        relations: related('Brantock,48-2290,supersession,Brantock; Brantock; Brantock,48-2206; 48-2217,1938,,catalogue,page 2'),
      },
      /^relations 2 to_maker: Write one maker for the whole kit/,
    ],
    [
      'a date that is none',
      { relations: related('Brantock,48-2290,supersession,Brantock,48-2206,spring 1938,,catalogue,page 2') },
      /^relations 2 since: This is a year, /,
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

  it('that has lost zeros which a known number has is pointed out, in the same file too, and taken', async () => {
    const { body } = await send({
      parts: lines('maker,number,name', 'Brantock,00482,Nut', 'Brantock,482,Nut', 'Brantock,483,Nut', 'Halloran Seals,482,Nut'),
      'part-numbers': lines('part_maker,part_number,maker,number', 'Brantock,483,Brantock,0484', 'Brantock,483,Brantock,484'),
    });
    expect(body).toMatchObject({
      faultsTotal: 0,
      notes: [
        { file: 'parts', line: 3, column: 'number', words: expect.stringMatching(/^This maker's 00482 is the same/) as string },
        { file: 'part-numbers', line: 3, words: expect.stringMatching(/^This maker's 0484 is the same/) as string },
      ],
    });
  });

  it('is read without space around it, of whatever kind', async () => {
    const { body } = await send({ makers: lines('name,note', ' Brantock\u00a0 ,\t') });
    expect(body).toMatchObject({ faultsTotal: 0, files: [{ unchanged: 1 }] });
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
