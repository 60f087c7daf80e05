import { newId } from '../../apps/api/src/platform/new-id.js';
import { makeCode } from '../../libs/codes/src/label-code.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { closeDrawing, drawPages, openReader, readPicture } from '../support/label-reader.js';
import { keyRow, type LoadShown, lotRow, openLoad, unitRow, unitType, unsortedRow } from '../support/load-stock.js';
import { Stock } from '../support/stock.js';

interface Label {
  corner: string;
  badge: string;
  title: string;
  subtitle: string;
  facts: string[];
  foot: string[];
  warning: string | null;
  stock: string;
  copies: number;
  printedBefore: number;
}
interface Run {
  id: string;
  labelCount: number;
  pageCount: number;
  pdfPath: string;
  nextFreeCell: number | null;
}

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let sealId: string;
let gasketId: string;
let typeId: string;

beforeAll(async () => {
  openReader();
  server = await startBareServer('labels');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  sealId = await stock.part({ name: 'Oil seal, worm input', material: 'rubber', polymer: 'NBR' });
  gasketId = await stock.part({ name: 'Gasket set, worm carrier', material: 'cork' });
  typeId = await unitType(stock);
});
afterAll(async () => {
  closeDrawing();
  await stock.close();
  await server.stop();
});

const label = async (code: string): Promise<Label> => (await owner.get<Label>(`/api/labels/${code}`)).body;
const run = (fields: Record<string, unknown>, options: { key?: string } = {}) =>
  owner.post<Run & { code: string; detail: string }>(
    '/api/label-runs',
    { id: newId(), stock: 'tie-on tag', dotsPerInch: 203, ...fields },
    options,
  );

async function pdf(path: string): Promise<Buffer> {
  const response = await fetch(`${server.url}${path}`, { headers: { cookie: owner.cookie ?? '' } });
  expect([response.status, response.headers.get('content-type')]).toEqual([200, 'application/pdf']);
  return Buffer.from(await response.arrayBuffer());
}

/** The codes on each page, each once, as another program reads both symbols of each label. */
async function codesOnPages(path: string, dpi: number, symbolsMax: number): Promise<string[][]> {
  const pages: string[][] = [];
  for (const picture of await drawPages(await pdf(path), dpi)) {
    const texts = (await readPicture(picture, symbolsMax)).map((symbol) => symbol.text);
    pages.push([...new Set(texts)]);
  }
  return pages;
}

/** A unit, two lots and a box. */
async function mixedLoad(): Promise<{ load: LoadShown; codes: string[] }> {
  const load = await openLoad(owner);
  const rows = [
    unitRow({ unitTypeId: typeId, words: '', grade: 'C', marks: 'WD7 4?18' }),
    lotRow(sealId, { position: 2, packetRead: '3/94', packetCondition: 'sealed', make: 'pattern' }),
    lotRow(gasketId, { position: 3, packetRead: '1949', packetCondition: 'sealed', quantity: '1' }),
    unsortedRow({ position: 4 }),
  ];
  const codes: string[] = [];
  for (const row of rows) codes.push((await keyRow(owner, load.id, row)).body.code);
  return { load, codes };
}

describe('what stands on a label', () => {
  it('of a unit: what it is, its grade, weight, owner, marks and load', async () => {
    const { load, codes } = await mixedLoad();
    const shown = await label(codes[0]!);
    expect(shown).toMatchObject({
      corner: '1 of 2, casing',
      badge: 'C',
      title: 'Overhead-worm axle',
      subtitle: 'Brantock WD7 · 7¾ : 1',
      stock: 'tie-on tag',
      copies: 2,
      printedBefore: 0,
      warning: null,
    });
    expect(shown.facts).toEqual(['about 186 kg', 'ours']);
    expect(shown.foot).toEqual(['marks WD7 4?18', `load ${load.number}`, expect.stringMatching(/^in \d+ \w+ \d{4}$/)]);
  });

  it('of a unit nobody has identified says so', async () => {
    const load = await openLoad(owner);
    const row = await keyRow(owner, load.id, unitRow({ words: 'gearbox, lid lost' }));
    expect(await label(row.body.code)).toMatchObject({
      title: 'gearbox, lid lost',
      subtitle: 'not yet identified',
      facts: ['not weighed', 'ours'],
    });
  });

  it('of rubber past its life is barred in words', async () => {
    const { codes } = await mixedLoad();
    expect(await label(codes[1]!)).toMatchObject({
      corner: 'no place yet',
      title: 'Oil seal, worm input',
      facts: ['old stock, pattern'],
      foot: ['4 pieces', 'packet 3/94, sealed'],
      warning: 'NOT FOR SERVICE: rubber, past life 1 Jul 2001',
      stock: 'bag label',
      copies: 1,
    });
    const load = await openLoad(owner);
    const undated = await keyRow(owner, load.id, lotRow(sealId));
    expect((await label(undated.body.code)).warning).toBe('NOT FOR SERVICE: rubber, date unknown');
  });

  it('of cork says to inspect, and of a box that nobody has named it', async () => {
    const { load, codes } = await mixedLoad();
    expect(await label(codes[2]!)).toMatchObject({ foot: ['packet 1949, sealed', 'inspect, no limit'], warning: null });
    expect(await label(codes[3]!)).toMatchObject({
      subtitle: 'about 40 pieces',
      foot: [`load ${load.number}`, 'nobody has named it yet'],
    });
  });

  it('of a component says of which unit, and of a place its name', async () => {
    const { codes, load } = await mixedLoad();
    const bin = newId();
    await owner.post('/api/places', { id: bin, parentId: null, name: 'Bench 1', kind: 'area' });
    const rows = (await owner.get<LoadShown>(`/api/loads/${load.id}`)).body.rows;
    const taken = await owner.post<{ code: string }>(`/api/units/${rows[0]?.id}/components`, {
      id: newId(),
      position: 3,
      name: 'Worm shaft',
      partId: null,
      placeId: bin,
    });
    const shown = await label(taken.body.code);
    expect(shown).toMatchObject({
      corner: 'Bench 1',
      title: 'Worm shaft',
      subtitle: `${codes[0]!.replace(/^(.)(.*)(..)$/, '$1 $2 $3')}, 3 of 9`,
      facts: ['ours'],
    });
    const place = (await owner.get<{ code: string }>(`/api/places/${bin}`)).body;
    expect(await label(place.code)).toMatchObject({ title: 'Bench 1', stock: 'bag label' });
  });

  it('of a job card names its unit, its customer and its tray', async () => {
    const customerId = await stock.customer('R. Sandiman, Netherstrake');
    const job = await stock.job([], { customerId });
    expect(await label(job.code)).toMatchObject({
      corner: `Tray ${job.trayId}`,
      title: 'Overhead-worm axle',
      subtitle: job.unit.code.replace(/^(.)(.*)(..)$/, '$1 $2 $3'),
      facts: ['R. Sandiman, Netherstrake'],
      stock: 'bag label',
    });
    expect((await run({ codes: [job.code], stock: 'bag label' })).body.labelCount).toBe(1);
  });

  it('is refused in words for a wrong, an unknown and a void code', async () => {
    const { load, codes } = await mixedLoad();
    const wrong = codes[0]!.slice(0, -1) + ((Number(codes[0]!.at(-1)) + 1) % 10);
    expect(await owner.get(`/api/labels/${wrong}`)).toMatchObject({ status: 422, body: { code: 'code-wrong-check' } });
    expect(await owner.get(`/api/labels/${makeCode('U', 999_999)}`)).toMatchObject({
      status: 404,
      body: { code: 'code-unknown' },
    });
    const rows = (await owner.get<LoadShown>(`/api/loads/${load.id}`)).body.rows;
    await owner.post(`/api/loads/${load.id}/rows/${rows[3]?.id}/strike`, { reason: 'keyed twice' }, { ifMatch: 1 });
    expect(await owner.get(`/api/labels/${codes[3]}`)).toMatchObject({ status: 409, body: { code: 'code-void' } });
    expect(await run({ codes: [codes[3]] })).toMatchObject({ status: 409, body: { code: 'code-void' } });
  });
});

describe('a run of labels', () => {
  it('for a load prints two tags a unit on tags, and the bags on bag labels, read back from the document', async () => {
    const { load, codes } = await mixedLoad();
    const tags = await run({ loadId: load.id });
    expect(tags.body).toMatchObject({ labelCount: 2, pageCount: 2, nextFreeCell: null });
    const bags = await run({ loadId: load.id, stock: 'bag label', dotsPerInch: 300 });
    expect(bags.body).toMatchObject({ labelCount: 3, pageCount: 3 });
    for (const [started, dpi, wanted] of [
      [tags.body, 203, [codes[0], codes[0]]],
      [bags.body, 300, codes.slice(1)],
    ] as const) {
      expect(await codesOnPages(started.pdfPath, dpi, 2)).toEqual(wanted.map((code) => [code]));
    }
    const page = (await owner.get<LoadShown>(`/api/loads/${load.id}`)).body;
    expect(page.unlabelled).toBe(0);
    expect(page.rows.map((row) => row.labelled)).toEqual([true, true, true, true]);
    expect((await label(codes[0]!)).printedBefore).toBe(1);
  });

  it('on a sheet takes all from any free cell and says which is free next', async () => {
    const { load } = await mixedLoad();
    expect((await run({ loadId: load.id, stock: 'A4 sheet', dotsPerInch: 300, startCell: 8 })).body).toMatchObject({
      labelCount: 5,
      pageCount: 1,
      nextFreeCell: 13,
    });
    expect((await run({ loadId: load.id, stock: 'A4 sheet', dotsPerInch: 300, startCell: 22 })).body).toMatchObject({
      pageCount: 2,
      nextFreeCell: 3,
    });
    expect((await run({ loadId: load.id, stock: 'A4 sheet', startCell: 25 })).status).toBe(422);
  });

  it('is started once however often it is sent', async () => {
    const { load, codes } = await mixedLoad();
    const [id, key] = [newId(), newId()];
    const start = () => run({ id, loadId: load.id }, { key });
    const answers = await Promise.all([start(), start()]);
    expect(answers[1]!.body).toEqual(answers[0]!.body);
    expect((await start()).body).toEqual(answers[0]!.body);
    expect((await label(codes[0]!)).printedBefore).toBe(1);
    expect((await run({ id, loadId: load.id })).status).toBe(422);
  });

  it('of what was not printed yet leaves out what was', async () => {
    const { load, codes } = await mixedLoad();
    await run({ codes: [codes[1]], stock: 'bag label' });
    expect((await run({ loadId: load.id, stock: 'bag label', onlyUnlabelled: true })).body.labelCount).toBe(2);
    const none = await run({ loadId: load.id, stock: 'bag label', onlyUnlabelled: true });
    expect(none).toMatchObject({ status: 422, body: { code: 'nothing-to-print' } });
    expect(none.body.detail).toContain('printed before');
  });

  it('prints a single label again, on whatever stock is at hand', async () => {
    const { codes } = await mixedLoad();
    expect((await run({ codes: [codes[3]], stock: 'tie-on tag' })).body.labelCount).toBe(1);
    expect((await run({ codes: [codes[3], codes[3]], stock: 'bag label' })).body.labelCount).toBe(1);
    expect((await label(codes[3]!)).printedBefore).toBe(2);
  });

  it('is for a load or for codes, of a load that is there, by somebody who works with things', async () => {
    const { load, codes } = await mixedLoad();
    expect((await run({})).status).toBe(422);
    expect((await run({ loadId: load.id, codes })).status).toBe(422);
    expect((await run({ loadId: newId() })).status).toBe(404);
    const viewer = await addPerson(server, owner, 'viewer', 'rs', 'R. Sandiman');
    const refused = await viewer.post('/api/label-runs', { id: newId(), loadId: load.id, stock: 'tie-on tag', dotsPerInch: 203 });
    expect(refused.status).toBe(403);
    expect((await owner.get(`/api/label-runs/${newId()}/pdf`)).status).toBe(404);
  });
});

describe('command cards', () => {
  it('have their codes from the first start on, and print on a sheet', async () => {
    const codes = await stock.query<{ code: string }>("SELECT code FROM codes WHERE kind = 'K' ORDER BY code");
    expect(codes[0]?.code).toBe(makeCode('K', 1));
    const [page] = await codesOnPages('/api/command-cards.pdf', 300, 2 * codes.length);
    expect(page?.toSorted()).toEqual(codes.map((row) => row.code));
    expect(await label(codes[3]!.code)).toMatchObject({ title: 'Put away', corner: 'command' });
  });
});

describe('a label printer', () => {
  it('is added, changed with the version that was seen, and refused to the slower of two browsers', async () => {
    const id = newId();
    const path = `/api/label-printers/${id}`;
    const printer = { name: 'stores', stock: 'tie-on tag', dotsPerInch: 203 };
    expect((await owner.put(path, printer)).body).toMatchObject({ ...printer, version: 1 });
    expect((await owner.put(path, printer)).status).toBe(428);
    expect((await owner.put(path, { ...printer, dotsPerInch: 300 }, { ifMatch: 1 })).body).toMatchObject({
      dotsPerInch: 300,
      version: 2,
    });
    expect(await owner.put(path, printer, { ifMatch: 1 })).toMatchObject({
      status: 412,
      body: { code: 'changed-meanwhile', values: { current: { version: 2 } } },
    });
    expect((await owner.put(`/api/label-printers/${newId()}`, { ...printer, name: 'Stores' })).status).toBe(422);
    expect((await owner.put(`/api/label-printers/${newId()}`, { ...printer, dotsPerInch: 200 })).status).toBe(422);
    expect((await owner.put(`/api/label-printers/${newId()}`, { ...printer, name: 'x' }, { ifMatch: 1 })).status).toBe(404);
    const list = await owner.get<{ printers: { id: string }[] }>('/api/label-printers');
    expect(list.body.printers.map((shown) => shown.id)).toEqual([id]);
  });
});
