import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { CountingScene } from '../support/counting-scene.js';
import type { Made } from '../support/stock.js';
import { WarningDesk } from '../support/warning-desk.js';

jest.setTimeout(120_000);

let scene: CountingScene;

beforeAll(async () => {
  scene = await CountingScene.open('trays');
});
afterAll(async () => {
  expect(await verifyBooks(scene.server.database)).toEqual([]);
  await scene.close();
});

interface Tray {
  bin: Made;
  lot: Made;
  job: Made;
  tray: Made;
}

/** A job that asks for four and has so many in its tray, out of a bag. */
async function kitted(quantity = '4', ofBag = '10'): Promise<Tray> {
  const { stock, owner } = scene;
  const partId = await stock.part({ name: 'Thrust washer' });
  const bin = await stock.place();
  const lot = await stock.lot(partId, { quantity: ofBag, placeId: bin.id });
  const job = await stock.job([{ partId, quantity: '4', critical: true }]);
  const picked = await owner.post('/api/picks', { code: lot.code, jobId: job.id, quantity });
  expect(picked.status).toBe(200);
  const [row] = await stock.query<{ code: string }>('SELECT code FROM codes WHERE subject_id = $1', [job.trayId]);
  return { bin, lot, job, tray: { id: job.trayId, code: row!.code } };
}

const claimed = async (lot: Made) =>
  (
    await scene.stock.query<{ claimed: string }>('SELECT trim_scale(claimed)::text AS claimed FROM things WHERE id = $1', [
      lot.id,
    ])
  )[0]?.claimed;

describe('the tray of a job', () => {
  it('is counted as a place is, and agrees where all that was picked lies in it', async () => {
    const { lot, tray } = await kitted();
    const countId = await scene.desk.counted(tray, [[lot, '4']], scene.bench);
    expect((await scene.desk.page(countId)).places).toMatchObject([{ id: tray.id, people: ['Tom Hasleby'] }]);
    expect(await scene.desk.differences(countId)).toMatchObject({ open: 0, agreed: 1 });
    expect((await scene.desk.end(countId)).status).toBe(200);
  });

  it('is not among the places of a count of the part before somebody scans it', async () => {
    const { bin, lot, tray } = await kitted();
    const [row] = await scene.stock.query<{ partId: string }>('SELECT part_id AS "partId" FROM lots WHERE thing_id = $1', [
      lot.id,
    ]);
    const { id } = (await scene.desk.begin({ partId: row!.partId })).body;
    expect((await scene.desk.page(id)).places.map((place) => place.id)).toEqual([bin.id]);
    await scene.desk.take(tray, { countId: id });
    expect((await scene.desk.page(id)).places.map((place) => place.id).toSorted()).toEqual([bin.id, tray.id].toSorted());
    await scene.desk.end(id, 'given up', 'asked for elsewhere');
  });

  it('that is short loses what is posted with what was promised of it, and the job is warned', async () => {
    const { lot, job, tray } = await kitted('4', '4');
    const warnings = await WarningDesk.of(scene.server, scene.owner, scene.stock);
    await warnings.firstLook(job.id);
    expect(await warnings.openOn(job.id)).toEqual([]);
    const countId = await scene.desk.counted(tray, [[lot, '3']]);
    const line = await scene.desk.line(countId, lot, tray);
    expect(line).toMatchObject({ state: 'short', difference: '-1', offered: ['post', 'again', 'leave'] });
    expect(line.why).toMatch(/goes off the job with what was promised of it: the job lacks it from then on, and is warned\.$/);
    const key = newId();
    for (const _ of [1, 2]) expect((await scene.desk.decide(countId, line, 'post', {}, { key })).status).toBe(200);
    expect(await scene.heldAt(lot, tray)).toBe('3');
    expect(await claimed(lot)).toBe('3');
    const { decided } = await scene.desk.line(countId, lot, tray);
    expect(decided).toMatchObject({ words: 'posted', canBeTakenBack: false });
    expect((await scene.desk.takeBack(decided!.id)).body).toMatchObject({ code: 'not-the-last-decision' });
    const [warning] = await warnings.until(job.id, ['cover lost']);
    expect(warning!.words).toMatch(/: 1 lacking, and it was covered$/);
    expect(warning!.why).toMatch(/L .* was found to be fewer than the books said\.$/);
    expect((await scene.desk.end(countId)).status).toBe(200);
    // it turns up: a scan onto the job has it again
    const again = await scene.owner.post('/api/picks', { code: lot.code, jobId: job.id, quantity: '1', haveItHere: true });
    expect(again.status).toBe(200);
    expect([await claimed(lot), await scene.heldAt(lot, tray)]).toEqual(['4', '4']);
    await warnings.until(job.id, []);
  });

  it('in which more lies, or what the books have elsewhere, is put right by a scan onto the job', async () => {
    const { lot, tray } = await kitted('2');
    const countId = await scene.desk.counted(tray, [[lot, '3']]);
    const line = await scene.desk.line(countId, lot, tray);
    expect(line).toMatchObject({ state: 'lies elsewhere by the books', offered: ['again', 'leave'] });
    expect(line.why).toMatch(/Scan it onto the job in the mode “pick”/);
    for (const decision of ['post', 'move'])
      expect((await scene.desk.decide(countId, line, decision)).body).toMatchObject({
        status: 409,
        code: 'cannot-be-decided-so',
      });
    expect((await scene.desk.decide(countId, line, 'leave', { why: 'Tom picks it by scan' })).status).toBe(200);
  });

  it('loses nothing when it is fitted from and posted at once', async () => {
    for (let round = 0; round < 4; round += 1) {
      const { lot, job, tray } = await kitted();
      const countId = await scene.desk.counted(tray, [[lot, '2']]);
      const line = await scene.desk.line(countId, lot, tray);
      const answers = await Promise.all([
        ...[1, 2, 3].map(() => scene.owner.post('/api/fits', { code: lot.code, jobId: job.id, quantity: '1' })),
        scene.desk.decide(countId, line, 'post'),
      ]);
      expect(answers.every(({ status }) => status === 200 || status === 409)).toBe(true);
      const posted = answers.at(-1)!.status === 200 ? 2 : 0;
      const fitted = answers.slice(0, -1).filter(({ status }) => status === 200).length;
      const inTray = Number(await scene.heldAt(lot, tray));
      expect(Number((await scene.thingOf(lot)).held) + fitted + posted).toBe(10);
      expect(inTray).toBeLessThanOrEqual(4 - posted);
      await scene.desk.end(countId, 'given up', 'the race is over');
    }
  });

  it('takes nothing that was found without a label: it was not picked', async () => {
    const { lot, tray } = await kitted();
    const countId = (await scene.desk.take(tray)).body.count.id;
    const id = newId();
    await scene.owner.post('/api/count-findings', { id, kind: 'no label', placeId: tray.id, words: 'a spring' });
    const made = await scene.owner.post<{ status: number }>(`/api/count-findings/${id}/end`, { how: 'made unsorted', why: '' });
    expect(made.body).toMatchObject({ status: 422 });
    expect(await scene.heldAt(lot, tray)).toBe('4');
    await scene.desk.end(countId, 'given up', 'laid into a bin');
  });
});
