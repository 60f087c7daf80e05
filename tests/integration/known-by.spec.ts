import { jest } from '@jest/globals';
import type * as z from 'zod';
import { newId } from '../../apps/api/src/platform/new-id.js';
import type { IdentificationList, KnownBy, KnownTypeList, SignKept } from '../../libs/contracts/src/identify.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { keyRow, openLoad, unitRow } from '../support/load-stock.js';
import { keepPicture, onePoint, sendPieces } from '../support/pictures.js';
import { Stock } from '../support/stock.js';
import { type Problem, unitTypeOf } from '../support/strip-bench.js';

jest.setTimeout(60_000);

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let typeId: string;

beforeAll(async () => {
  server = await startBareServer('known_edits');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  typeId = await unitTypeOf(stock, []);
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

const casting = {
  kind: 'casting',
  position: 'on the carrier',
  pattern: '48 B 6',
  yearFirst: 1938,
  yearLast: 1946,
  words: '',
  weight: 'good',
};
const feature = {
  kind: 'feature',
  position: '',
  pattern: '',
  yearFirst: null,
  yearLast: null,
  words: 'The worm lies above the wheel',
  weight: 'hint',
};
const sign = (id: string, body: object, ifMatch?: number, type = typeId) =>
  owner.put<SignKept & Problem>(`/api/unit-types/${type}/signs/${id}`, body, ifMatch === undefined ? {} : { ifMatch });
const numbers = (body: object, ifMatch: number, type = typeId) =>
  owner.put<KnownBy & Problem>(`/api/unit-types/${type}/numbers`, body, { ifMatch });
const knownBy = async (type = typeId) => (await owner.get<KnownBy>(`/api/unit-types/${type}/known-by`)).body;
/** As whoever identifies a unit is told of it. */
const told = async () =>
  (await owner.get<z.infer<typeof KnownTypeList>>('/api/unit-types/known-by')).body.types.find(({ id }) => id === typeId)!;

describe('a sign by which a type is known', () => {
  const id = newId();

  it('is added, changed with the version that was seen, withdrawn, and looked for again', async () => {
    expect((await sign(id, casting)).body).toMatchObject({ ...casting, withdrawn: false, version: 1, pictures: [] });
    expect((await told()).signs).toMatchObject([{ id, pattern: '48 B 6' }]);
    expect((await sign(id, { ...casting, pattern: '48 B ?' }, 1)).body).toMatchObject({ pattern: '48 B ?', version: 2 });
    expect((await sign(id, { ...casting, withdrawn: true }, 2)).body).toMatchObject({ withdrawn: true, version: 3 });
    expect((await told()).signs).toEqual([]);
    expect((await knownBy()).signs).toMatchObject([{ id, withdrawn: true }]);
    expect((await sign(id, casting, 3)).status).toBe(200);
    expect((await told()).signs).toMatchObject([{ id }]);
  });

  it('is not overwritten unsaid', async () => {
    const now = (await knownBy()).signs[0]!.version;
    const both = await Promise.all(['a', 'b'].map((words) => sign(id, { ...casting, words }, now)));
    expect(both.map(({ status }) => status).sort()).toEqual([200, 412]);
    expect((await sign(id, casting)).status).toBe(428);
  });

  it.each<[string, object, string]>([
    ['a feature without words', { ...feature, words: '' }, 'words'],
    ['a count of nothing', { ...feature, kind: 'count', pattern: '8' }, 'position'],
    ['a count that is no number', { ...feature, kind: 'count', position: 'studs', pattern: 'eight' }, 'pattern'],
    ['a stamp of jokers alone', { ...casting, kind: 'stamp', pattern: '?*' }, 'pattern'],
    ['years the wrong way round', { ...casting, yearFirst: 1950 }, 'yearLast'],
    ['a year to come', { ...casting, yearFirst: null, yearLast: 2999 }, 'yearLast'],
    ['another weight than there is', { ...casting, weight: 'sure' }, 'weight'],
  ])('is refused as %s, and says which field', async (_, body, path) => {
    const answer = await sign(newId(), body);
    expect(answer).toMatchObject({ status: 422, body: { values: { fields: [{ path }] } } });
  });

  it('belongs to its type, and is edited by those who keep the books', async () => {
    const other = await unitTypeOf(stock, []);
    expect((await sign(id, casting, 1, other)).status).toBe(404);
    expect((await sign(id, casting, undefined, other)).status).toBe(404);
    expect((await sign(newId(), casting, undefined, newId())).status).toBe(404);
    expect((await sign(newId(), casting, 1)).status).toBe(404);
    const bench = await addPerson(server, owner, 'bench', 'tomh', 'Tom Hasleby');
    expect((await bench.put(`/api/unit-types/${typeId}/signs/${newId()}`, casting)).status).toBe(403);
    expect((await bench.put(`/api/unit-types/${typeId}/numbers`, { serials: [], gears: [] }, { ifMatch: 1 })).status).toBe(403);
  });

  it('is photographed as a thing is, and whoever identifies a unit is told of what was not struck out', async () => {
    const seen = newId();
    await sign(seen, feature);
    const kept: string[] = [];
    for (const _ of [1, 2]) {
      const keep = keepPicture(seen, onePoint);
      await sendPieces(server.url, owner, keep.id, onePoint);
      expect((await owner.post<{ shows: string }>('/api/pictures', keep)).body.shows).toBe('thing');
      kept.push(keep.id);
    }
    expect((await owner.post(`/api/pictures/${kept[0]}/strike`, { reason: 'blurred' })).status).toBe(200);
    expect((await told()).signs.find((each) => each.id === seen)?.pictures).toEqual([kept[1]]);
    const { signs } = await knownBy();
    expect(signs.find((each) => each.id === seen)?.pictures).toHaveLength(2);
  });
});

describe('the serial numbers and the teeth of a type', () => {
  const both = {
    serials: [
      { prefix: 'WD7', first: 1, last: 6990 },
      { prefix: '', first: 7, last: 7 },
    ],
    gears: [
      {
        gear: 'first',
        meshes: [
          { driver: 18, driven: 32 },
          { driver: 13, driven: 37 },
        ],
      },
      { gear: 'top', meshes: [{ driver: 18, driven: 18 }] },
    ],
  };

  it('are written together, changed, and left out again', async () => {
    const { version } = await knownBy();
    expect((await numbers(both, version)).body).toMatchObject({ ...both, version: version + 1 });
    expect(await told()).toMatchObject(both);
    const fewer = { serials: [both.serials[0]], gears: [] };
    expect((await numbers(fewer, version + 1)).body).toMatchObject({ ...fewer, version: version + 2 });
    expect(await told()).toMatchObject(fewer);
  });

  it('are not overwritten unsaid', async () => {
    const { version } = await knownBy();
    const two = await Promise.all([numbers(both, version), numbers({ serials: [], gears: [] }, version)]);
    expect(two.map(({ status }) => status).sort()).toEqual([200, 412]);
  });

  it.each<[string, object, string]>([
    ['a range that runs backward', { serials: [{ prefix: '', first: 9, last: 1 }], gears: [] }, 'serials.0.last'],
    [
      'a wheel without teeth',
      { serials: [], gears: [{ gear: '', meshes: [{ driver: 4, driven: 0 }] }] },
      'gears.0.meshes.0.driven',
    ],
    ['a gear without a mesh', { serials: [], gears: [{ gear: '', meshes: [] }] }, 'gears.0.meshes'],
    ['a gear twice', { serials: [], gears: [both.gears[0], { ...both.gears[1], gear: 'First' }] }, 'gears.1.gear'],
    [
      'several gears of which one has no name',
      { serials: [], gears: [both.gears[0], { ...both.gears[1], gear: '' }] },
      'gears.1.gear',
    ],
  ])('are refused with %s, and stay as they were', async (_, body, path) => {
    const before = await knownBy();
    expect(await numbers(body, before.version)).toMatchObject({ status: 422, body: { values: { fields: [{ path }] } } });
    expect(await knownBy()).toEqual(before);
  });
});

describe('a row of goods-in that is given its type', () => {
  const saidOf = async (unitId: string) =>
    (await owner.get<z.infer<typeof IdentificationList>>(`/api/units/${unitId}/identifications`)).body.identifications;
  let loadId: string;
  const change = (id: string, version: number, fields: object) =>
    owner.put<{ version: number }>(`/api/loads/${loadId}/rows/${id}`, unitRow({ ...fields }), { ifMatch: version });

  beforeAll(async () => {
    loadId = (await openLoad(owner)).id;
    await numbers({ serials: [{ prefix: 'WD7', first: 1, last: 6990 }], gears: [] }, (await knownBy()).version);
  });

  it('leaves on record who said so, and by which marks', async () => {
    const row = (await keyRow(owner, loadId, unitRow({ marks: 'WD7 3306 · 48 B 6' }))).body;
    expect(await saidOf(row.id)).toEqual([]);
    await change(row.id, row.version, { unitTypeId: typeId, marks: 'WD7 3306 · 48 B 6' });
    const said = await saidOf(row.id);
    expect(said).toMatchObject([
      {
        unitType: { id: typeId },
        by: 'Edie Marrack',
        why: '',
        ruledOut: false,
        reading: { serial: 'WD7 3306', marks: ['48 B 6'] },
      },
    ]);
    expect(said[0]?.speaksFor.join(' ')).toContain('Serial WD7 3306 lies within WD7 1 to 6990');
  });

  it('says where it was keyed when the marks contradict it, or when it was said to be something else before', async () => {
    const row = (await keyRow(owner, loadId, unitRow({ position: 2, marks: 'WD7 9000' }))).body;
    const named = await change(row.id, row.version, { position: 2, unitTypeId: typeId, marks: 'WD7 9000' });
    await change(row.id, named.body.version, { position: 2, unitTypeId: null, marks: 'WD7 9000' });
    const where = 'it was keyed so in its row at goods-in';
    expect(await saidOf(row.id)).toMatchObject([
      { unitType: null, why: where },
      { unitType: { id: typeId }, ruledOut: true, why: where },
    ]);
  });

  it('leaves nothing where the type stays as it was', async () => {
    const row = (await keyRow(owner, loadId, unitRow({ position: 3, unitTypeId: typeId }))).body;
    await change(row.id, row.version, { position: 3, unitTypeId: typeId, note: 'oily' });
    expect(await saidOf(row.id)).toEqual([]);
  });
});
