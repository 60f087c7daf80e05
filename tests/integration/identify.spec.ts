import { jest } from '@jest/globals';
import type { QueryRunner } from 'typeorm';
import type * as z from 'zod';
import { KnownBy1764061200019 } from '../../apps/api/src/migrations/0019-known-by.js';
import { newId } from '../../apps/api/src/platform/new-id.js';
import type { IdentificationList, KnownTypeList, UnidentifiedList } from '../../libs/contracts/src/identify.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { createTestDatabase } from '../support/database.js';
import { faultsIn, sendFiles } from '../support/import-client.js';
import { lines } from '../support/small-workshop.js';
import { Stock } from '../support/stock.js';

jest.setTimeout(120_000);

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let types: Record<string, string>;

const books = {
  makers: lines('name', 'Brantock', 'Dunmarrow'),
  'unit-types': lines(
    'reference,maker,kind,model,serial_range',
    'WD7,Brantock,Overhead-worm axle,WD7,WD7 1 to WD7 6990',
    'WD5,Brantock,Overhead-worm axle,WD5,',
    'S11,Dunmarrow,Spiral-bevel axle,S11,',
  ),
  'unit-type-signs': lines(
    'unit_type,number,kind,position,pattern,year_first,year_last,words,weight',
    'WD7,1,casting,on the carrier,48 B 6,1938,1946,,good',
    'WD7,2,count,wheel studs,8,,,,decisive',
    'WD5,1,count,wheel studs,6,,,,decisive',
    'WD5,2,feature,,,,,The worm lies above the wheel,hint',
  ),
  'unit-type-serials': lines('unit_type,number,prefix,first,last', 'WD7,1,WD7,1,6990'),
  'unit-type-teeth': lines('unit_type,gear,mesh,driver,driven', 'WD7,,1,4,31', 'S11,first,1,18,32', 'S11,first,2,13,37'),
};

beforeAll(async () => {
  server = await startBareServer('identify');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  const brought = await sendFiles(server.url, books, { by: owner, apply: true });
  expect(faultsIn(brought)).toEqual([]);
  const rows = await stock.query<{ id: string; reference: string }>('SELECT id, reference FROM unit_types');
  types = Object.fromEntries(rows.map(({ id, reference }) => [reference, id]));
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

const say = (unitId: string, unitType: string | null, reading: object, more: object = {}) =>
  owner.post<{ unitType: { id: string } | null; code: string; detail: string; version: number }>(
    `/api/units/${unitId}/identification`,
    { id: newId(), unitTypeId: unitType === null ? null : types[unitType], reading, ...more },
  );
const saidOf = async (unitId: string) =>
  (await owner.get<z.infer<typeof IdentificationList>>(`/api/units/${unitId}/identifications`)).body.identifications;
const waiting = async () => (await owner.get<z.infer<typeof UnidentifiedList>>('/api/units/unidentified')).body;

describe('what a unit type is known by', () => {
  it('comes in by files, and is told with its teeth in their order', async () => {
    const { types: known } = (await owner.get<z.infer<typeof KnownTypeList>>('/api/unit-types/known-by')).body;
    expect(known.map(({ name }) => name)).toEqual(['Brantock WD5', 'Brantock WD7', 'Dunmarrow S11']);
    expect(known[1]).toMatchObject({
      maker: 'Brantock',
      serials: [{ prefix: 'WD7', first: 1, last: 6990 }],
      gears: [{ gear: '', meshes: [{ driver: 4, driven: 31 }] }],
    });
    expect(known[1]?.signs[0]).toMatchObject({
      kind: 'casting',
      pattern: '48 B 6',
      yearFirst: 1938,
      yearLast: 1946,
      pictures: [],
    });
    expect(known[2]?.gears).toEqual([
      {
        gear: 'first',
        meshes: [
          { driver: 18, driven: 32 },
          { driver: 13, driven: 37 },
        ],
      },
    ]);
  });

  it('is brought in again without a change, and leaves in the columns in which it came', async () => {
    const again = await sendFiles(server.url, books, { by: owner, apply: true });
    expect(again.body.files.every((file) => file.added === 0)).toBe(true);
    for (const file of ['unit-type-signs', 'unit-type-serials', 'unit-type-teeth'] as const) {
      const answer = await fetch(`${server.url}/api/exports/${file}`, { headers: { cookie: owner.cookie ?? '' } });
      const taken = (await answer.text()).replace('\ufeff', '').trim().split('\r\n');
      expect(taken.toSorted()).toEqual(books[file].trim().split(/\r?\n/).toSorted());
    }
  });

  it('is refused row by row where a sign cannot be looked for', async () => {
    const tried = await sendFiles(
      server.url,
      {
        'unit-type-signs': lines(
          'unit_type,number,kind,position,pattern,words,weight',
          'S11,1,feature,,,,good',
          'S11,2,count,,twelve,,good',
          'S11,3,stamp,,*,,good',
          'S11,4,smell,,,oil,good',
        ),
        'unit-type-serials': lines('unit_type,number,prefix,first,last', 'S11,1,S11,900,100'),
        'unit-type-teeth': lines('unit_type,gear,mesh,driver,driven', 'S11,,1,0,39'),
      },
      { by: owner },
    );
    expect(faultsIn(tried)).toEqual([
      expect.stringMatching(/^unit-type-signs 2 words: Say what to look for/),
      expect.stringMatching(/^unit-type-signs 3 position: Say what is counted/),
      expect.stringMatching(/^unit-type-signs 3 pattern: Key how many/),
      expect.stringMatching(/^unit-type-signs 4 pattern: Key what stands there/),
      expect.stringMatching(/^unit-type-signs 5 kind: This is one of/),
      expect.stringMatching(/^unit-type-serials 2 last: This is less than the first/),
      expect.stringMatching(/^unit-type-teeth 2 driver: This is a whole number/),
    ]);
  });
});

describe('a unit that nobody has identified', () => {
  it('stands in the list, the oldest first, until somebody says what it is', async () => {
    const [older, newer] = [await stock.unit(), await stock.unit()];
    const before = await waiting();
    const ids = before.units.map(({ id }) => id);
    expect(ids.indexOf(older.id)).toBeGreaterThanOrEqual(0);
    expect(ids.indexOf(newer.id)).toBeGreaterThan(ids.indexOf(older.id));
    expect(before.count).toBe(before.units.length);
    const answer = await say(older.id, 'WD7', { serial: 'WD7 3306', castings: ['48 B 6'] });
    expect(answer).toMatchObject({ status: 200, body: { unitType: { id: types.WD7, name: 'Brantock WD7' } } });
    expect((await waiting()).units.map(({ id }) => id)).not.toContain(older.id);
    expect(await saidOf(older.id)).toEqual([
      expect.objectContaining({
        unitType: { id: types.WD7, name: 'Brantock WD7' },
        speaksFor: [
          'Serial WD7 3306 lies within WD7 1 to 6990.',
          'Casting number 48 B 6 fits 48 B 6, on the carrier, which means 1938 to 1946.',
        ],
        speaksAgainst: [],
        ruledOut: false,
        reading: expect.objectContaining({ serial: 'WD7 3306', castings: ['48 B 6'], features: {} }),
      }),
    ]);
  });

  it('is not said to be what was read to be otherwise, unless somebody says why', async () => {
    const unit = await stock.unit();
    const reading = { serial: 'WD7 9000', counts: { 'wheel studs': 8 } };
    const refused = await say(unit.id, 'WD7', reading);
    expect(refused).toMatchObject({ status: 409, body: { code: 'contradicted' } });
    expect(refused.body.detail).toMatch(/^Serial WD7 9000 cannot be one of WD7 1 to 6990\..*Nothing was changed\.$/);
    expect(await saidOf(unit.id)).toEqual([]);
    expect((await say(unit.id, 'WD7', reading, { why: 'stamped again after a repair' })).status).toBe(200);
    expect(await saidOf(unit.id)).toEqual([expect.objectContaining({ ruledOut: true, why: 'stamped again after a repair' })]);
  });

  it('is put right by a later saying, and what was said before stays', async () => {
    const unit = await stock.unit();
    await say(unit.id, 'WD7', {});
    expect(await say(unit.id, 'WD5', { counts: { 'wheel studs': 6 } })).toMatchObject({
      status: 409,
      body: { code: 'needs-reason' },
    });
    expect((await say(unit.id, 'WD5', { counts: { 'wheel studs': 6 } }, { why: 'six studs, not eight' })).status).toBe(200);
    expect((await say(unit.id, null, {}, { why: 'the hub is not its own' })).body.unitType).toBeNull();
    expect((await saidOf(unit.id)).map(({ unitType, why }) => [unitType?.name ?? null, why])).toEqual([
      [null, 'the hub is not its own'],
      ['Brantock WD5', 'six studs, not eight'],
      ['Brantock WD7', ''],
    ]);
    expect((await waiting()).units.map(({ id }) => id)).toContain(unit.id);
    expect(await say(unit.id, null, {}, { why: 'again' })).toMatchObject({ status: 409, body: { code: 'not-identified' } });
  });

  it('is said by two at once: both are kept, the one that saw an old page is told', async () => {
    const unit = await stock.unit();
    const send = (unitType: string) =>
      owner.post<{ code: string }>(
        `/api/units/${unit.id}/identification`,
        { id: newId(), unitTypeId: types[unitType], reading: {} },
        { ifMatch: 1 },
      );
    const answers = await Promise.all([send('WD7'), send('WD5')]);
    expect(answers.map(({ status }) => status).toSorted()).toEqual([200, 412]);
    expect(await saidOf(unit.id)).toHaveLength(1);
  });

  it('is said by who keeps the books only, of a unit only, and of a type in the books only', async () => {
    const unit = await stock.unit();
    const bench = await addPerson(server, owner, 'bench', 'tomh', 'Tom Hasleby');
    const body = { id: newId(), unitTypeId: types.WD7, reading: {} };
    expect((await bench.post(`/api/units/${unit.id}/identification`, body)).status).toBe(403);
    const lot = await stock.lot(null);
    expect((await owner.post(`/api/units/${lot.id}/identification`, body)).status).toBe(404);
    expect((await owner.post(`/api/units/${unit.id}/identification`, { ...body, unitTypeId: newId() })).status).toBe(404);
  });

  it('keeps what was said: the database lets nobody change it', async () => {
    await expect(stock.query("UPDATE identifications SET why = 'x'")).rejects.toThrow();
    await expect(stock.query('DELETE FROM identifications')).rejects.toThrow();
  });
});

it('what the words of older books say of serials and teeth is taken over where it can be read, and nothing is guessed', async () => {
  const database = await createTestDatabase('known_by');
  const older = await Stock.open(database.ownerUrl);
  const servingRole = decodeURIComponent(new URL(database.servingUrl).username);
  const runner = { query: (text: string) => older.query(text) } as unknown as QueryRunner;
  const migration = new KnownBy1764061200019();
  await older.query("SELECT set_config('corewright.serving_role', $1, false)", [servingRole]);
  await migration.down(runner);
  await older.query("INSERT INTO makers (id, name) VALUES ('01931f5e-7a00-7000-8000-000000000001', 'Pellow')");
  for (const [reference, serials, ratio] of [
    ['P30', 'P30 H 1 to P30 H 24880', '5.11 : 1 (46/9)'],
    ['WD7', '120 to 400', '7 3/4 : 1 (worm 4, wheel 31)'],
    ['4G', '4G 100 to 4G/2 14200', '1st 5.1, 2nd 2.9'],
    ['S9', '', ''],
  ])
    await older.query(
      `INSERT INTO unit_types (id, reference, maker_id, kind, model, serial_range, ratio)
       VALUES ($1, $2, '01931f5e-7a00-7000-8000-000000000001', 'Axle', $2, $3, $4)`,
      [newId(), reference, serials, ratio],
    );
  await migration.up(runner);
  const of = (table: string) =>
    older.query(`SELECT reference, ${table}.* FROM ${table} JOIN unit_types ON unit_types.id = unit_type_id ORDER BY reference`);
  expect(await of('unit_type_serials')).toEqual([
    expect.objectContaining({ reference: 'P30', prefix: 'P30 H', first: 1, last: 24880 }),
    expect.objectContaining({ reference: 'WD7', prefix: '', first: 120, last: 400 }),
  ]);
  expect(await of('unit_type_teeth')).toEqual([
    expect.objectContaining({ reference: 'P30', driver: 9, driven: 46 }),
    expect.objectContaining({ reference: 'WD7', driver: 4, driven: 31 }),
  ]);
  await older.close();
  await database.drop();
});
