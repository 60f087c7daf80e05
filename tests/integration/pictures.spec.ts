import { createHash } from 'node:crypto';
import { existsSync, readdirSync, renameSync, utimesSync, writeFileSync } from 'node:fs';
import { constants, getPriority } from 'node:os';
import { join } from 'node:path';
import exifr from 'exifr';
import pg from 'pg';
import sharp from 'sharp';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { Darkroom } from '../../apps/api/src/stores/pictures/developing/darkroom.js';
import { PhotographFolder } from '../../apps/api/src/stores/pictures/photograph-folder.js';
import { PhotographKeeper } from '../../apps/api/src/stores/pictures/photograph-keeper.js';
import { addPerson, type BareServer, serveOn, startBareServer, type Visitor } from '../support/bare-server.js';
import { keyRow, type LoadShown, openLoad, unsortedRow } from '../support/load-stock.js';
import {
  fetchPicture,
  type KeepAsked,
  keepPicture,
  phonePhotograph,
  sendPicture,
  sendPiece,
  sendPieces,
} from '../support/pictures.js';
import { Stock } from '../support/stock.js';

let server: BareServer;
let owner: Visitor;
let load: LoadShown;
let boxId: string;

beforeAll(async () => {
  server = await startBareServer('pictures', { photographMegabytesMax: 3 });
  owner = await server.setUp();
  load = await openLoad(owner);
  boxId = (await keyRow(owner, load.id, unsortedRow())).body.id;
});
afterAll(() => server.stop());

const send = (file: Buffer, further: Partial<KeepAsked> & { key?: string } = {}) =>
  sendPicture(server.url, owner, boxId, file, further);
const keep = (asked: KeepAsked, key = newId(), by: Visitor = owner) =>
  by.post<Record<string, unknown>>('/api/pictures', asked, { key });
const picturesOfRow = async (): Promise<string[]> =>
  ((await owner.get<LoadShown>(`/api/loads/${load.id}`)).body.rows[0]?.pictures ?? []).map(({ id }) => id);
const arriving = (): string[] => readdirSync(join(server.config.photographs.folder, 'arriving'));
const fileAt = (folder: string, bytes: Buffer, ending = 'jpg'): string => {
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  return join(folder, sha256.slice(0, 2), `${sha256}.${ending}`);
};

describe('a photograph', () => {
  it('is kept upright in two sizes beside its original, once however often it is sent', async () => {
    const photograph = await phonePhotograph(3000, 2000);
    const asked = keepPicture(boxId, photograph, { words: 'as it came off the van' });
    await sendPieces(server.url, owner, asked.id, photograph);
    const key = newId();
    const [first, again] = [await keep(asked, key), await keep(asked, key)];
    expect(first).toMatchObject({
      status: 200,
      body: {
        subjectId: boxId,
        shows: 'thing',
        words: 'as it came off the van',
        takenBy: 'Edie Marrack',
        takenAt: '2026-03-04T09:20:30.000Z',
        width: 2000,
        height: 3000,
        struckOut: null,
      },
    });
    expect(again.body).toEqual(first.body);
    expect(await picturesOfRow()).toEqual([asked.id]);
    for (const [size, side] of [
      ['full', 2048],
      ['small', 320],
    ] as const) {
      const { response, bytes } = await fetchPicture(server.url, owner, asked.id, size);
      const facts = await sharp(bytes).metadata();
      expect(facts).toMatchObject({ format: 'jpeg', height: side });
      expect([facts.exif, facts.orientation, facts.xmp, facts.icc]).toEqual([undefined, undefined, undefined, undefined]);
      expect(response.headers.get('content-type')).toBe('image/jpeg');
      expect(response.headers.get('x-content-type-options')).toBe('nosniff');
      expect(response.headers.get('cache-control')).toContain('immutable');
      expect(existsSync(fileAt(server.config.photographs.folder, bytes))).toBe(true);
    }
    expect(arriving()).toEqual([]);
  });

  it('keeps of its original every point, the day and the camera, and no position, as a reader of another house says (exifr)', async () => {
    const photograph = await phonePhotograph(300, 200, '#446688');
    expect(await exifr.gps(photograph)).toMatchObject({ latitude: 51.5, longitude: 7.25 });
    const { body } = await send(photograph);
    const { bytes } = await fetchPicture(server.url, owner, body.id, 'original');
    expect(await exifr.gps(bytes)).toBeUndefined();
    const facts = (await exifr.parse(bytes, { translateValues: false })) as Record<string, unknown>;
    expect(facts).toMatchObject({
      Make: 'Invented Phone',
      Copyright: 'secret words',
      Orientation: 6,
      OffsetTimeOriginal: '+01:00',
    });
    expect(Object.keys(facts).filter((name) => /gps|latitude|longitude|comment/i.test(name))).toEqual([]);
    expect(bytes.includes('behind the chapel')).toBe(false);
    const points = (file: Buffer): Promise<Buffer> => sharp(file).raw().toBuffer();
    expect((await points(bytes)).equals(await points(photograph))).toBe(true);
  });

  it('of another content under the same key is refused', async () => {
    const key = newId();
    await send(await phonePhotograph(), { key });
    expect(await send(await phonePhotograph(640, 480), { key })).toMatchObject({
      status: 422,
      body: { code: 'key-used-otherwise' },
    });
  });

  it('of the same id is the same photograph, or refused', async () => {
    const photograph = await phonePhotograph(200, 100);
    const first = await send(photograph);
    const asked = keepPicture(boxId, photograph, { id: first.body.id });
    expect((await keep(asked)).body).toEqual(first.body);
    expect(await keep({ ...asked, sha256: 'a'.repeat(64) })).toMatchObject({ status: 409, body: { code: 'id-taken' } });
  });

  it.each(['png', 'webp'] as const)('may be a %s, and is not made larger', async (format) => {
    const picture = await sharp({ create: { width: 40, height: 30, channels: 4, background: '#00000000' } })
      .withExif({ IFD0: { Make: 'Invented Phone' }, IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '51/1 30/1 0/1' } })
      .toFormat(format)
      .toBuffer();
    const answer = await send(picture);
    expect(answer).toMatchObject({ status: 200, body: { width: 40, height: 30 } });
    const { response, bytes } = await fetchPicture(server.url, owner, answer.body.id, 'original');
    expect(response.headers.get('content-type')).toBe(`image/${format}`);
    const { exif } = await sharp(bytes).metadata();
    expect(exif?.includes('Invented Phone')).toBe(true);
    expect(Object.keys((await exifr.parse(exif as Buffer).catch(() => null)) ?? {}).filter((name) => /gps/i.test(name))).toEqual(
      [],
    );
  });

  it.each([
    ['a page with a script', Buffer.from('<html><script>alert(1)</script></html>'), 415, 'not-a-picture'],
    ['a drawing that can hold a script', Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"/>'), 415, 'not-a-picture'],
    ['a phone’s HEIC', Buffer.from('\0\0\0\x18ftypheic\0\0\0\0mif1heic', 'latin1'), 415, 'not-a-picture'],
    ['a file cut off', Buffer.from([0xff, 0xd8, 0xff, 0xe0, 0, 16, 1, 2, 3]), 422, 'picture-damaged'],
    ['nothing', Buffer.alloc(0), 422, 'bad-input'],
    ['more than three megabytes', Buffer.alloc(3 * 1024 * 1024 + 1, 0xff), 413, 'too-large'],
  ])('is refused where it is %s', async (_, file, status, code) => {
    const before = await picturesOfRow();
    expect(await send(file)).toMatchObject({ status, body: { code } });
    expect(await picturesOfRow()).toEqual(before);
  });

  it('of two hundred megabytes is refused at its first piece', async () => {
    const answer = await sendPiece(server.url, owner, newId(), await phonePhotograph(), { bytes: 200 * 1024 * 1024 });
    expect(answer).toMatchObject({ status: 413, body: { code: 'too-large' } });
  });

  it('of a few bytes that claims two thousand million points is refused', async () => {
    const bomb = await sharp({ create: { width: 16, height: 16, channels: 3, background: '#000' } })
      .png()
      .toBuffer();
    bomb.writeUInt32BE(45_000, 16);
    bomb.writeUInt32BE(45_000, 20);
    const { crc32 } = await import('node:zlib');
    bomb.writeUInt32BE(crc32(bomb.subarray(12, 29)), 29);
    expect(await send(bomb)).toMatchObject({ status: 422, body: { code: 'picture-too-large' } });
  });

  it('is refused of nothing in the books, without sign-in, and from those who only look', async () => {
    const photograph = await phonePhotograph(64, 48);
    expect((await sendPicture(server.url, owner, newId(), photograph)).status).toBe(404);
    expect((await sendPicture(server.url, server.visitor(), boxId, photograph)).status).toBe(401);
    const viewer = await addPerson(server, owner, 'viewer', 'rs', 'R. Sandiman');
    expect((await sendPicture(server.url, viewer, boxId, photograph)).status).toBe(403);
  });

  it('is shown to those who are signed in, and in the three sizes only', async () => {
    const { id } = (await send(await phonePhotograph())).body;
    expect((await fetchPicture(server.url, null, id, 'small')).response.status).toBe(401);
    expect((await fetchPicture(server.url, owner, id, 'huge')).response.status).toBe(422);
    expect((await fetchPicture(server.url, owner, newId(), 'full')).response.status).toBe(404);
  });

  it('whose file this server cannot see is told in words, and the browser keeps nothing of that', async () => {
    const { id } = (await send(await phonePhotograph(90, 60, '#123456'))).body;
    const { bytes } = await fetchPicture(server.url, owner, id, 'small');
    const path = fileAt(server.config.photographs.folder, bytes);
    renameSync(path, `${path}.elsewhere`);
    const { response } = await fetchPicture(server.url, owner, id, 'small');
    expect(response.status).toBe(503);
    expect(response.headers.get('cache-control') ?? '').not.toContain('immutable');
    renameSync(`${path}.elsewhere`, path);
    expect((await fetchPicture(server.url, owner, id, 'small')).response.status).toBe(200);
  });

  it('is developed by another process where the one that does it was killed, and that one stands behind the server', async () => {
    const darkroom = server.app.get(Darkroom);
    expect((await send(await phonePhotograph(401, 300))).status).toBe(200);
    const first = darkroom.processId!;
    expect(getPriority(first)).toBe(constants.priority.PRIORITY_LOW);
    process.kill(first, 'SIGKILL');
    const answers = await Promise.all([send(await phonePhotograph(402, 300)), send(await phonePhotograph(403, 300))]);
    expect(answers.map(({ status }) => status)).toEqual([200, 200]);
    expect(darkroom.processId).not.toBe(first);
  });
});

describe('an upload', () => {
  it('goes on where it broke off, at another server too, and arrives once', async () => {
    const photograph = await sharp({
      create: { width: 1500, height: 1000, channels: 3, background: '#333', noise: { type: 'gaussian', mean: 128, sigma: 60 } },
    })
      .jpeg({ quality: 95 })
      .toBuffer();
    expect(photograph.length).toBeGreaterThan(600_000);
    const asked = keepPicture(boxId, photograph);
    const half = 300_000;
    await sendPiece(server.url, owner, asked.id, photograph, { to: half });
    const second = await serveOn(server.testDatabase);
    try {
      const before = await picturesOfRow();
      expect(await keep(asked)).toMatchObject({ status: 409, body: { code: 'upload-not-whole', values: { received: half } } });
      const reached = await fetch(`${second.url}/api/uploads/${asked.id}`, { headers: { cookie: owner.cookie! } });
      expect(await reached.json()).toEqual({ received: half, isKept: false });
      // the same piece again changes nothing, and one too far on is told where to begin
      expect((await sendPiece(second.url, owner, asked.id, photograph, { to: half })).body).toMatchObject({ received: half });
      expect(await sendPiece(second.url, owner, asked.id, photograph, { from: half + 9, to: half + 99 })).toMatchObject({
        status: 409,
        body: { code: 'piece-out-of-place', values: { received: half } },
      });
      await sendPieces(second.url, owner, asked.id, photograph, half);
      const key = newId();
      const answers = await Promise.all([1, 2, 3].map(() => keep(asked, key)));
      expect(answers.map(({ status }) => status)).toEqual([200, 200, 200]);
      expect(await picturesOfRow()).toHaveLength(before.length + 1);
      expect((await owner.get(`/api/uploads/${asked.id}`)).body).toEqual({ received: 0, isKept: true });
      expect(arriving().filter((name) => name.endsWith(asked.id))).toEqual([]);
    } finally {
      await second.close();
    }
  });

  it('that arrived otherwise than it was sent is asked for again from its beginning', async () => {
    const photograph = await phonePhotograph(222, 111);
    const asked = keepPicture(boxId, photograph);
    const wrong = Buffer.from(photograph);
    wrong[wrong.length - 9] = wrong[wrong.length - 9]! ^ 0xff;
    await sendPieces(server.url, owner, asked.id, wrong);
    expect(await keep(asked)).toMatchObject({ status: 409, body: { code: 'upload-not-whole', values: { received: 0 } } });
    await sendPieces(server.url, owner, asked.id, photograph);
    expect((await keep(asked)).status).toBe(200);
  });

  it('is nobody else’s', async () => {
    const photograph = await phonePhotograph(111, 222);
    const asked = keepPicture(boxId, photograph);
    await sendPieces(server.url, owner, asked.id, photograph);
    const tom = await addPerson(server, owner, 'bench', 'tomh', 'Tom Hasleby');
    expect(await keep(asked, newId(), tom)).toMatchObject({ status: 409, body: { values: { received: 0 } } });
    expect((await keep(asked)).status).toBe(200);
  });

  it('that nobody went on with for a week is cleared away, a younger one not', async () => {
    const photograph = await phonePhotograph(80, 80);
    const [old, young] = [newId(), newId()];
    for (const id of [old, young]) await sendPieces(server.url, owner, id, photograph);
    const name = arriving().find((each) => each.endsWith(old))!;
    const eightDaysAgo = Date.now() / 1000 - 8 * 86_400;
    utimesSync(join(server.config.photographs.folder, 'arriving', name), eightDaysAgo, eightDaysAgo);
    expect(await server.app.get(PhotographFolder).sweep(7, Date.now())).toBe(1);
    const left = arriving().map((each) => each.split('.')[1]);
    expect(left).toContain(young);
    expect(left).not.toContain(old);
  });
});

describe('what stands under a photograph', () => {
  it('is changed by whoever saw it as it is', async () => {
    const { id } = (await send(await phonePhotograph(70, 70), { ofMarks: true, words: 'stamp' })).body;
    expect(
      (await owner.patch(`/api/pictures/${id}`, { words: 'the stamp on the nose', ofMarks: true }, { ifMatch: 1 })).body,
    ).toMatchObject({ words: 'the stamp on the nose', shows: 'marks', version: 2 });
    const late = await owner.patch(`/api/pictures/${id}`, { words: 'other', ofMarks: false }, { ifMatch: 1 });
    expect(late).toMatchObject({ status: 412, body: { code: 'changed-meanwhile' } });
  });

  it('is a reason and a name where it is struck out: it stays on the thing’s page, and counts no more', async () => {
    const { id } = (await send(await phonePhotograph(71, 70))).body;
    const struck = await owner.post(`/api/pictures/${id}/strike`, { reason: 'of the wrong box' });
    expect(struck.body).toMatchObject({ struckOut: { why: 'of the wrong box', by: 'Edie Marrack' } });
    expect(await picturesOfRow()).not.toContain(id);
    const page = await owner.get<{ pictures: { id: string; struckOut: unknown }[] }>(`/api/things/${boxId}`);
    expect(page.body.pictures.find((each) => each.id === id)?.struckOut).toMatchObject({ why: 'of the wrong box' });
    expect((await owner.post(`/api/pictures/${id}/strike`, { reason: 'again' })).status).toBe(409);
    expect((await fetchPicture(server.url, owner, id, 'small')).response.status).toBe(200);
  });

  it('says that it is of a job where it is', async () => {
    const stock = await Stock.open(server.testDatabase.ownerUrl);
    const job = await stock.job([]);
    await stock.close();
    const photograph = await phonePhotograph(72, 70);
    expect((await sendPicture(server.url, owner, job.id, photograph)).body).toMatchObject({ shows: 'job', subjectId: job.id });
    const card = await owner.get<{ pictures: { shows: string }[] }>(`/api/jobs/${job.id}`);
    expect(card.body.pictures).toMatchObject([{ shows: 'job' }]);
  });
});

describe('photographs that an older version kept in the database', () => {
  it('are moved into files at a start, a rest left by a start that broke off too', async () => {
    const client = new pg.Client({ connectionString: server.testDatabase.ownerUrl });
    await client.connect();
    const bytes = await sharp(await phonePhotograph(100, 80, '#998877'))
      .autoOrient()
      .jpeg()
      .toBuffer();
    const small = await sharp(bytes).resize(20).jpeg().toBuffer();
    const ids = [newId(), newId()];
    for (const id of ids) {
      await client.query(
        `INSERT INTO pictures (id, subject_id, media_type, width, height) VALUES ($1, $2, 'image/jpeg', 80, 100)`,
        [id, boxId],
      );
      await client.query(`INSERT INTO picture_data (picture_id, size, bytes) VALUES ($1, 'full', $2), ($1, 'small', $3)`, [
        id,
        bytes,
        small,
      ]);
    }
    // a file that was written before the start broke off
    writeFileSync(join(server.config.photographs.folder, 'arriving', 'left.part'), bytes);
    await server.app.get(PhotographKeeper).onApplicationBootstrap();
    const left = await client.query('SELECT count(*)::int AS count FROM picture_data');
    await client.end();
    expect(left.rows).toEqual([{ count: 0 }]);
    for (const id of ids) {
      expect((await fetchPicture(server.url, owner, id, 'full')).bytes.equals(bytes)).toBe(true);
      expect((await fetchPicture(server.url, owner, id, 'original')).bytes.equals(bytes)).toBe(true);
      expect((await fetchPicture(server.url, owner, id, 'small')).bytes.equals(small)).toBe(true);
    }
  });
});
