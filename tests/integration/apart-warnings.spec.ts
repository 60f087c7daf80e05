import { newId } from '../../apps/api/src/platform/new-id.js';
import { WarningDesk } from '../support/warning-desk.js';

let desk: WarningDesk;

beforeAll(async () => {
  desk = await WarningDesk.open('apartwarn');
});
afterAll(() => desk.close());

/** A critical line that one lot covers, looked at while it did. */
async function coveredJob(ownerId: string | null = null) {
  const partId = await desk.stock.part({ name: 'Crown wheel' });
  const lot = await desk.stock.lot(partId, { ownerId });
  const job = await desk.stock.job([{ partId, critical: true }], { customerId: ownerId });
  await desk.firstLook(job.id);
  expect(await desk.openOn(job.id)).toEqual([]);
  return { lot, job };
}

const act = async (path: string, body: object) => expect((await desk.owner.post(path, body)).status).toBe(200);

it('a job that counts on a lot is warned when it is condemned', async () => {
  const { lot, job } = await coveredJob();
  await act(`/api/things/${lot.id}/condemnation`, { reason: 'cracked', noPicture: 'the camera is away' });
  const [warning] = await desk.until(job.id, ['cover lost']);
  expect(`${warning!.words} ${warning!.why}`).toMatch(/condemned/);
});

it('and when it is held back for somebody by name, until that hold is lifted', async () => {
  const { lot, job } = await coveredJob();
  const { body: me } = await desk.owner.get<{ id: string }>('/api/me');
  await act(`/api/things/${lot.id}/hold`, { reason: 'ask', mayLiftId: me.id, lookAgainOn: null });
  await desk.until(job.id, ['cover lost']);
  await act(`/api/things/${lot.id}/hold-lift`, { reason: 'asked' });
  await desk.until(job.id, []);
});

it('and the customer’s own job when its part is kept for its owner', async () => {
  const { lot, job } = await coveredJob(await desk.stock.customer());
  const keep = { id: newId(), kind: 'to be decided by its owner', words: 'asked', since: desk.today, lookAgainOn: '2099-01-05' };
  await act(`/api/things/${lot.id}/kept-for-owner`, keep);
  await desk.until(job.id, ['cover lost']);
});
