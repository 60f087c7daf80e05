import sharp from 'sharp';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { keyRow, type LoadShown, openLoad, unsortedRow } from '../support/load-stock.js';
import { fetchPicture, phonePhotograph, sendPicture } from '../support/pictures.js';

let server: BareServer;
let owner: Visitor;
let load: LoadShown;
let boxId: string;

beforeAll(async () => {
  server = await startBareServer('pictures');
  owner = await server.setUp();
  load = await openLoad(owner);
  boxId = (await keyRow(owner, load.id, unsortedRow())).body.id;
});
afterAll(() => server.stop());

const send = (files: Buffer[], options: { key?: string; field?: string } = {}) =>
  sendPicture(server.url, owner, boxId, files, options);
const picturesOfRow = async (): Promise<string[]> =>
  (await owner.get<LoadShown>(`/api/loads/${load.id}`)).body.rows[0]?.pictures ?? [];

describe('a photograph', () => {
  it('is kept upright, in two sizes, without what the camera wrote into it, once however often it is sent', async () => {
    const photograph = await phonePhotograph(3000, 2000);
    const key = newId();
    const [first, again] = [await send([photograph], { key }), await send([photograph], { key })];
    expect(first).toMatchObject({ status: 200, body: { subjectId: boxId, width: 1365, height: 2048 } });
    expect(again.body).toEqual(first.body);
    expect(await picturesOfRow()).toEqual([first.body.id]);
    for (const [size, side] of [
      ['full', 2048],
      ['small', 320],
    ] as const) {
      const { response, bytes } = await fetchPicture(server.url, owner, first.body.id, size);
      const facts = await sharp(bytes).metadata();
      expect(facts).toMatchObject({ format: 'jpeg', height: side });
      expect([facts.exif, facts.orientation, facts.xmp, facts.icc]).toEqual([undefined, undefined, undefined, undefined]);
      expect(bytes.includes('secret words')).toBe(false);
      expect(response.headers.get('content-type')).toBe('image/jpeg');
      expect(response.headers.get('x-content-type-options')).toBe('nosniff');
      expect(response.headers.get('cache-control')).toContain('immutable');
    }
  });

  it('of another content under the same key is refused', async () => {
    const key = newId();
    await send([await phonePhotograph()], { key });
    expect(await send([await phonePhotograph(640, 480)], { key })).toMatchObject({
      status: 422,
      body: { code: 'key-used-otherwise' },
    });
  });

  it.each(['png', 'webp'] as const)('may be a %s, and is not made larger', async (format) => {
    const picture = await sharp({ create: { width: 40, height: 30, channels: 4, background: '#00000000' } })
      .toFormat(format)
      .toBuffer();
    expect(await send([picture])).toMatchObject({ status: 200, body: { width: 40, height: 30 } });
  });

  it.each([
    ['a page with a script', Buffer.from('<html><script>alert(1)</script></html>'), 415, 'not-a-picture'],
    ['a drawing that can hold a script', Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"/>'), 415, 'not-a-picture'],
    ['a phone’s HEIC', Buffer.from('\0\0\0\x18ftypheic\0\0\0\0mif1heic', 'latin1'), 415, 'not-a-picture'],
    ['a file cut off', Buffer.from([0xff, 0xd8, 0xff, 0xe0, 0, 16, 1, 2, 3]), 422, 'picture-damaged'],
    ['nothing', Buffer.alloc(0), 422, 'bad-input'],
    ['more than 15 megabytes', Buffer.alloc(15 * 1024 * 1024 + 1, 0xff), 413, 'too-large'],
  ])('is refused where it is %s', async (_, file, status, code) => {
    const before = await picturesOfRow();
    expect(await send([file])).toMatchObject({ status, body: { code } });
    expect(await picturesOfRow()).toEqual(before);
  });

  it('is refused two at a time, in another field, of nothing in the books, and without sign-in', async () => {
    const photograph = await phonePhotograph(64, 48);
    expect((await send([photograph, photograph])).status).toBe(422);
    expect((await send([photograph], { field: 'file' })).status).toBe(422);
    expect((await sendPicture(server.url, owner, newId(), [photograph])).status).toBe(404);
    expect((await sendPicture(server.url, server.visitor(), boxId, [photograph])).status).toBe(401);
    const viewer = await addPerson(server, owner, 'viewer', 'rs', 'R. Sandiman');
    expect((await sendPicture(server.url, viewer, boxId, [photograph])).status).toBe(403);
  });

  it('is shown to those who are signed in, and in the two sizes only', async () => {
    const { id } = (await send([await phonePhotograph()])).body;
    expect((await fetchPicture(server.url, null, id, 'small')).response.status).toBe(401);
    expect((await fetchPicture(server.url, owner, id, 'huge')).response.status).toBe(422);
    expect((await fetchPicture(server.url, owner, newId(), 'full')).response.status).toBe(404);
  });
});
