import type * as z from 'zod';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { formatCode, type LabelCode } from '../../libs/codes/src/label-code.js';
import type { ActList, JobScanDone, TakenBack, TakenOut } from '../../libs/contracts/src/bench.js';
import type { JobCard } from '../../libs/contracts/src/jobs.js';
import { type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { LabelDesk } from '../support/label-changes.js';
import { Stock } from '../support/stock.js';
import { accepted } from '../support/write-making.js';

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let labels: LabelDesk;

beforeAll(async () => {
  server = await startBareServer('livecodes');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  labels = new LabelDesk(owner);
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await stock.close();
  await server.stop();
});

const codesAt = async (jobId: string) =>
  (await accepted(owner.get<z.infer<typeof ActList>>(`/api/jobs/${jobId}/acts`))).acts.map(({ act, code }) => `${act} ${code}`);

/** Two fitted of a bag whose label was spoiled afterwards. */
async function fittedAndLabelledAnew() {
  const partId = await stock.part({ name: 'Big seal' });
  const lot = await stock.lot(partId, { quantity: '5' });
  const job = await stock.job([{ partId, quantity: '4' }]);
  const fitted = await accepted(
    owner.post<JobScanDone & { actId: string; fittingId: string }>('/api/fits', { code: lot.code, jobId: job.id, quantity: '2' }),
  );
  const [blank] = await labels.blanks('lot', 1);
  await accepted(labels.replace(lot.code, blank!, 'spoiled'));
  return { lot, job, fitted, live: blank! };
}

describe('a thing whose label was replaced', () => {
  it('goes by the live one in the acts of the bench, on the job card and where an act is taken back', async () => {
    const { lot, job, fitted, live } = await fittedAndLabelledAnew();
    expect(await codesAt(job.id)).toEqual([`fitted ${live}`]);
    const card = await accepted(owner.get<JobCard>(`/api/jobs/${job.id}`));
    const said = JSON.stringify(card);
    expect(said).toContain(`fitted 2 of ${formatCode(live as LabelCode)}`);
    expect(said).not.toContain(formatCode(lot.code as LabelCode));
    expect(said).not.toContain(`"${lot.code}"`);
    const back = await accepted(owner.post<z.infer<typeof TakenBack>>(`/api/acts/${fitted.actId}/take-back`, {}));
    expect(JSON.stringify(back)).toContain(live);
    expect(JSON.stringify(back)).not.toContain(lot.code);
    expect((await codesAt(job.id)).every((act) => act.endsWith(live))).toBe(true);
  });

  it('goes by the live one where it is taken out after fitting', async () => {
    const { lot, job, fitted, live } = await fittedAndLabelledAnew();
    const out = await accepted(
      owner.post<z.infer<typeof TakenOut>>(`/api/fittings/${fitted.fittingId}/removal`, {
        lotId: newId(),
        quantity: '1',
        placeId: stock.placeId,
        why: 'it wept',
      }),
    );
    expect(JSON.stringify(out)).not.toContain(lot.code);
    expect(await codesAt(job.id)).toContain(`fitted ${live}`);
  });

  it('goes by the one that is shown, not by a further one', async () => {
    const partId = await stock.part({ name: 'Big seal' });
    const lot = await stock.lot(partId, { quantity: '2' });
    const job = await stock.job([{ partId, quantity: '2' }]);
    // further labels whose codes come before the one that is shown, in any order of letters
    await accepted(labels.putFurther(lot.code, null));
    const { code: newest } = await accepted(labels.replace(lot.code, null, 'lost'));
    await accepted(labels.putFurther(newest, null));
    await accepted(owner.post('/api/picks', { code: newest, jobId: job.id, quantity: '2' }));
    expect(await codesAt(job.id)).toEqual([`picked ${newest}`]);
  });
});
