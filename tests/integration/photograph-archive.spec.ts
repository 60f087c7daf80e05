import { jest } from '@jest/globals';
import { extract, pack } from 'tar-stream';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { exportFiles } from '../../libs/contracts/src/imports.js';
import type { ArchiveReport, PictureShown } from '../../libs/contracts/src/pictures.js';
import { addPerson, type BareServer, startBareServer, tokenIn, type Visitor } from '../support/bare-server.js';
import { ownersPath, startExampleServer } from '../support/example-server.js';
import { type Files, sendFiles } from '../support/import-client.js';
import { fetchPicture, phonePhotograph, sendPicture } from '../support/pictures.js';

jest.setTimeout(180_000);

let example: BareServer;
let empty: BareServer;
let mary: Visitor;
let owner: Visitor;
const taken: PictureShown[] = [];

beforeAll(async () => {
  example = await startExampleServer('archive_from');
  mary = example.visitor();
  await mary.post('/api/sign-in-link', { token: tokenIn(await ownersPath(example)) }, { key: null });
  empty = await startBareServer('archive_to');
  owner = await empty.setUp();
});
afterAll(async () => {
  await example.stop();
  await empty.stop();
});

async function archiveFrom(server: BareServer, by: Visitor): Promise<Buffer> {
  const answer = await fetch(`${server.url}/api/photograph-archive`, { headers: { cookie: by.cookie ?? '' } });
  expect(answer.headers.get('content-type')).toBe('application/x-tar');
  return Buffer.from(await answer.arrayBuffer());
}

async function bringIn(server: BareServer, by: Visitor, archive: Buffer): Promise<{ status: number; body: ArchiveReport }> {
  const headers = { cookie: by.cookie ?? '', 'idempotency-key': newId(), 'content-type': 'application/x-tar' };
  const body = new Uint8Array(archive);
  const answer = await fetch(`${server.url}/api/photograph-archive`, { method: 'POST', headers, body });
  return { status: answer.status, body: (await answer.json()) as ArchiveReport };
}

async function entriesOf(archive: Buffer): Promise<Map<string, Buffer>> {
  const entries = new Map<string, Buffer>();
  const reader = extract();
  reader.end(archive);
  for await (const entry of reader) {
    const pieces: Buffer[] = [];
    for await (const piece of entry) pieces.push(piece as Buffer);
    entries.set(entry.header.name, Buffer.concat(pieces));
  }
  return entries;
}

async function idsIn(server: BareServer, text: string): Promise<string> {
  return (await server.database.row<{ id: string }>(text))!.id;
}

describe('an archive of photographs', () => {
  it('holds each original once, and a list of what each shows', async () => {
    const unitId = await idsIn(
      example,
      `SELECT min(subject_id::text) AS id FROM import_references JOIN balances ON thing_id = subject_id
       JOIN places USING (holder_id) WHERE file = 'units' AND quantity > 0 AND NOT EXISTS (SELECT FROM jobs WHERE tray_id = holder_id)`,
    );
    const lotId = await idsIn(
      example,
      `SELECT min(subject_id::text) AS id FROM import_references JOIN balances ON thing_id = subject_id
       JOIN places USING (holder_id) WHERE file = 'lots' AND quantity > 0 AND kind = 'bin'`,
    );
    const placeId = await idsIn(example, `SELECT holder_id AS id FROM places WHERE kind = 'rack' LIMIT 1`);
    const signId = await idsIn(
      example,
      `SELECT unit_type_signs.id FROM unit_type_signs JOIN unit_types ON unit_types.id = unit_type_id WHERE reference = 'WD7' AND number = 5`,
    );
    const [one, other] = [await phonePhotograph(300, 200), await phonePhotograph(310, 200, '#224466')];
    for (const [subjectId, file, further] of [
      [unitId, one, { words: '=the nose, "as found"', ofMarks: true }],
      [lotId, other, {}],
      [lotId, one, { words: 'the same picture' }],
      [placeId, other, {}],
      [signId, other, { words: 'how the studs sit' }],
    ] as const) {
      const sent = await sendPicture(example.url, mary, subjectId, file, further);
      expect(sent.status).toBe(200);
      taken.push(sent.body as unknown as PictureShown);
    }
    await mary.post(`/api/pictures/${taken[2]!.id}/strike`, { reason: 'of the wrong bag' });
    const entries = await entriesOf(await archiveFrom(example, mary));
    const [list, ...files] = [...entries.keys()];
    expect(list).toBe('photographs.csv');
    expect(files).toHaveLength(2);
    const text = entries.get('photographs.csv')!.toString('utf8');
    expect(text.split('\r\n')).toHaveLength(7);
    expect(text).toContain(',sign,WD7 5,thing,how the studs sit,');
    expect(text).toContain(`marks,"'=the nose, ""as found""",2026-03-04T09:20:30.000000Z`);
    expect(text).toContain('of the wrong bag');
    const { bytes } = await fetchPicture(example.url, mary, taken[0]!.id, 'original');
    expect([...entries.values()].some((content) => content.equals(bytes))).toBe(true);
  });

  it('changes nothing where it came from, however often it is sent', async () => {
    const archive = await archiveFrom(example, mary);
    for (const _ of [1, 2])
      expect(await bringIn(example, mary, archive)).toEqual({
        status: 200,
        body: { kept: 0, unchanged: 5, faults: [], faultsTotal: 0 },
      });
  });

  it('says of each photograph whose thing is not in the books that it is not, and keeps the others later', async () => {
    const archive = await archiveFrom(example, mary);
    const before = await bringIn(empty, owner, archive);
    expect(before.body).toMatchObject({ kept: 0, faultsTotal: 5 });
    expect(before.body.faults[0]).toMatchObject({ line: 2, words: expect.stringContaining('is not in the books') });
    const files: Files = {};
    for (const file of exportFiles) {
      const answer = await fetch(`${example.url}/api/exports/${file}`, { headers: { cookie: mary.cookie ?? '' } });
      files[file] = new Uint8Array(await answer.arrayBuffer());
    }
    expect((await sendFiles(empty.url, files, { by: owner, apply: true })).body).toMatchObject({ applied: true });
    expect((await bringIn(empty, owner, archive)).body).toEqual({ kept: 5, unchanged: 0, faults: [], faultsTotal: 0 });
    const again = await archiveFrom(empty, owner);
    const [from, to] = [await entriesOf(archive), await entriesOf(again)];
    // who took them is not among the people of the other workshop
    const withoutTakers = (list: Buffer): string => list.toString('utf8').replaceAll(/Z,[a-z]*,/g, 'Z,,');
    expect(withoutTakers(to.get('photographs.csv')!)).toBe(withoutTakers(from.get('photographs.csv')!));
    expect([...to.keys()]).toEqual([...from.keys()]);
    for (const [name, content] of to) if (name !== 'photographs.csv') expect(content.equals(from.get(name)!)).toBe(true);
    expect(await empty.database.row('SELECT why FROM picture_strikes')).toEqual({ why: 'of the wrong bag' });
    expect((await fetchPicture(empty.url, owner, taken[0]!.id, 'small')).response.status).toBe(200);
  });

  it('with a file that is not what it was keeps nothing of that file', async () => {
    const entries = await entriesOf(await archiveFrom(example, mary));
    const writer = pack();
    for (const [name, content] of entries)
      writer.entry(
        { name },
        name === 'photographs.csv'
          ? Buffer.from(content.toString('utf8').replaceAll(taken[3]!.id, newId()))
          : Buffer.concat([content, Buffer.from('!')]),
      );
    writer.finalize();
    const pieces: Buffer[] = [];
    for await (const piece of writer) pieces.push(piece as Buffer);
    const { body } = await bringIn(example, mary, Buffer.concat(pieces));
    expect(body).toMatchObject({ kept: 0, unchanged: 4, faultsTotal: 1 });
    expect(body.faults[0]?.words).toContain('is not what it was');
  });

  it('is refused where it is none, and is for those who keep the stores', async () => {
    expect(await bringIn(empty, owner, Buffer.from('no archive at all'))).toMatchObject({
      status: 422,
      body: { code: 'not-an-archive' },
    });
    expect(await bringIn(empty, owner, Buffer.alloc(2048))).toMatchObject({ status: 422, body: { code: 'not-an-archive' } });
    const viewer = await addPerson(empty, owner, 'viewer', 'wilf', 'Wilf Peskett');
    expect((await bringIn(empty, viewer, Buffer.alloc(1024))).status).toBe(403);
    expect((await viewer.get('/api/photograph-archive')).status).toBe(403);
  });
});
