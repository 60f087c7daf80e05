import { jest } from '@jest/globals';
import { type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { type Files, faultsIn, type SendFiles, sendFiles } from '../support/import-client.js';
import { lines, smallWorkshop } from '../support/small-workshop.js';

jest.setTimeout(120_000);

let server: BareServer;
let owner: Visitor;

beforeAll(async () => {
  server = await startBareServer('importown');
  owner = await server.setUp();
  expect(faultsIn(await send(smallWorkshop, { apply: true }))).toEqual([]);
});
afterAll(async () => {
  await server.stop();
});

const send = (files: Files, options: Partial<SendFiles> = {}) => sendFiles(server.url, files, { by: owner, ...options });
const faultsOf = async (files: Files) => faultsIn(await send(files));

describe('bearings of the workshop’s own', () => {
  const bearing = (...rows: string[]): string =>
    lines('designation,type,bore_mm,outside_mm,width_mm,chamfer_min_mm,dynamic_rating_n,source', ...rows);
  const widthsOf = (...names: string[]) =>
    server.database.rows(
      'SELECT designation AS name, width_mm::float8 AS width, shipped FROM bearing_dimensions WHERE designation = ANY ($1) ORDER BY 1',
      [names],
    );

  it('go by the name under which they are looked up, by the suffixes that came with them too', async () => {
    const files = {
      makers: lines('name,note', 'Veldrow Bearings,'),
      'bearing-suffixes': lines('maker,suffix,aspect,value,words,source', 'veldrow bearings,QQ,seals,two shields,shields,a list'),
      bearings: bearing(
        'R8 ZZ,deep groove ball,12.7,28.575,7.93,,,measured',
        'R6 QQ,deep groove ball,9.525,22.225,7.2,,,measured',
      ),
    };
    const names = ['R6', 'R6-2Z', 'R8', 'R8-2Z'];
    const before = await widthsOf('R6', 'R8');
    expect(before).toMatchObject([{ shipped: true }, { shipped: true }]);
    expect(faultsIn(await send(files, { apply: true }))).toEqual([]);
    const after = await widthsOf(...names);
    expect(after.filter(({ shipped }) => shipped)).toEqual(before);
    expect(after.filter(({ shipped }) => !shipped)).toEqual([
      { name: 'R6-2Z', width: 7.2, shipped: false },
      { name: 'R8-2Z', width: 7.93, shipped: false },
    ]);
    const read = await owner.get<{ dimensions: unknown }>('/api/bearings/read?designation=R8%20ZZ');
    expect(read.body.dimensions).toMatchObject({ widthMm: 7.93, shipped: false });
    // the maker as the books write the name, and who brought it in, as where it is keyed
    const { suffixes, own } = (
      await owner.get<Record<'suffixes' | 'own', { by: string; maker: string; shipped: boolean }[]>>('/api/bearing-tables')
    ).body;
    expect(suffixes.filter(({ shipped }) => !shipped)).toMatchObject([{ maker: 'Veldrow Bearings', by: 'Edie Marrack' }]);
    expect(own.map(({ by }) => by)).toEqual(['Edie Marrack', 'Edie Marrack']);
    expect(
      await server.database.rows(
        "SELECT row ->> 'width_mm' AS width FROM bearing_changes WHERE row_key = 'R8-2Z' AND NOT struck_out AND row ->> 'source' = 'measured'",
      ),
    ).toEqual([{ width: '7.93' }]);
  });

  it('are seen by the relations that come with them', async () => {
    const files = {
      parts: lines('maker,number,name', 'Brantock,CX 71,Hub bearing', 'Brantock,CX 72,Hub bearing of another box'),
      bearings: bearing('CX 71,deep groove ball,30,62,16,,,measured', 'CX 72,deep groove ball,30,62,20,,,measured'),
      relations: lines(
        'from_maker,from_number,kind,to_maker,to_number,since,conditions,evidence,evidence_words',
        'Brantock,CX 71,same as,Brantock,CX 72,,,told,by the man who sold it',
      ),
    };
    expect(faultsIn(await send(files, { apply: true }))).toEqual([]);
    expect(await server.database.rows("SELECT doubt FROM relations WHERE evidence_words = 'by the man who sold it'")).toEqual([
      { doubt: expect.stringMatching(/width/i) },
    ]);
  });

  it.each([
    [
      'narrower outside than its bore',
      '62,30,16,',
      /^bearings 2 outside_mm: The outside, 30 mm, must be larger than the bore, 62 mm\./,
    ],
    [
      'with a chamfer larger than its ring',
      '30,62,16,17',
      /^bearings 2 chamfer_min_mm: A chamfer of 17 mm is larger than the ring\./,
    ],
  ])('are not taken %s', async (_case, figures, words) => {
    expect(await faultsOf({ bearings: bearing(`CX 73,deep groove ball,${figures},,measured`) })).toEqual([
      expect.stringMatching(words),
    ]);
  });
});

describe('lots of preserved bearings', () => {
  it.each([
    ['with a store alone', 'Brantock,48-2206', ',dry', /^lots 2 bearing_store: Say first how the bearing is preserved/],
    ['of rubber', 'Brantock,48-2230', 'open-preserved,', /^lots 2 bearing_packing: This is of rubber/],
    ['in wax', 'Brantock,48-2206', 'wax,', /^lots 2 bearing_packing: This is one of: open-preserved, sealed-greased\./],
  ])('are refused %s, as on the screen', async (_case, part, preserved, words) => {
    const lots = lines('reference,maker,number,quantity,bearing_packing,bearing_store', `P1,${part},1,${preserved}`);
    expect(await faultsOf({ lots })).toEqual([expect.stringMatching(words)]);
  });
});
