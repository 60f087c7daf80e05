import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type CsvRecord, recordsOf } from './read-csv.js';
import { inspectFile } from './text-encoding.js';

let folder: string;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'corewright-csv-'));
});
afterAll(async () => {
  await rm(folder, { recursive: true, force: true });
});

async function written(content: string | Uint8Array): Promise<string> {
  const path = join(folder, 'rows.csv');
  await writeFile(path, content);
  return path;
}

async function all(records: AsyncIterable<CsvRecord>): Promise<CsvRecord[]> {
  const rows: CsvRecord[] = [];
  for await (const record of records) rows.push(record);
  return rows;
}

describe('rows of a file larger than one piece', () => {
  it('keep their lines and letters wherever the pieces part', async () => {
    // Rows of uneven length put line ends, quotation marks and letters of several bytes on every kind of boundary.
    const rows = Array.from({ length: 6000 }, (_, index) => ({
      name: `Größe ${'½'.repeat(index % 37)}`,
      note: `one ""${index}""\r\ntwo`,
    }));
    const path = await written(`name,note\r\n${rows.map(({ name, note }) => `${name},"${note}"\r\n`).join('')}`);
    const read = await all(recordsOf(path, 'utf-8'));
    expect(read).toHaveLength(rows.length + 1);
    for (const [index, { name }] of rows.entries())
      expect(read[index + 1]).toEqual({ line: 2 + index * 2, cells: [name, `one "${index}"\r\ntwo`] });
    expect((await inspectFile(path)).encoding).toMatchObject({ ok: true, label: 'utf-8' });
  });

  it('come out up to the one that breaks off, however many there are', async () => {
    const path = await written(`name\n${'Brantock\n'.repeat(20_000)}3/8" bolt\nrest\n`);
    const read: CsvRecord[] = [];
    const reading = (async () => {
      for await (const record of recordsOf(path, 'utf-8')) read.push(record);
    })();
    await expect(reading).rejects.toMatchObject({ name: 'CsvUnreadable', line: 20_002 });
    expect(read).toHaveLength(20_001);
  });

  it('are not gathered without end where a quotation mark stays open', async () => {
    const path = await written(`name\nA\n"B\n${'C\n'.repeat(2_000_000)}`);
    await expect(all(recordsOf(path, 'utf-8'))).rejects.toMatchObject({ name: 'CsvUnreadable', line: 3 });
  });

  it('can be left before their end', async () => {
    const path = await written(`name\n${'Brantock\n'.repeat(50_000)}`);
    for await (const record of recordsOf(path, 'utf-8')) {
      expect(record).toEqual({ line: 1, cells: ['name'] });
      break;
    }
  });
});

describe('the encoding of a file', () => {
  it('is no UTF-8 where its last letter is cut off', async () => {
    const path = await written(Uint8Array.from([0x61, 0xc3]));
    expect((await inspectFile(path)).encoding).toMatchObject({ ok: true, label: 'windows-1252' });
  });

  it('is UTF-8 for an empty file', async () => {
    expect((await inspectFile(await written(''))).encoding).toMatchObject({ ok: true, words: 'UTF-8' });
  });
});
