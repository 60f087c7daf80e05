import { newId } from '../../apps/api/src/platform/new-id.js';
import { accepted, fresh, type MakeReady, type WriteScene } from './write-making.js';

async function saleOfOne({ stock }: WriteScene): Promise<Record<string, unknown>> {
  const lot = await stock.lot(await stock.part(), { quantity: '4' });
  return {
    id: newId(),
    lines: [{ thingId: lot.id, quantity: '2', price: '12.50' }],
    buyer: fresh('A man from Hexley'),
    paid: 'cash',
  };
}

async function kept({ owner, stock }: WriteScene): Promise<string> {
  const id = newId();
  await accepted(owner.post('/api/kept-for-jobs', { id, partId: await stock.part(), reason: 'none are to be had' }));
  return id;
}

/** A job with two in its tray. */
async function kitted({ owner, stock }: WriteScene): Promise<{ jobId: string; thingId: string }> {
  const partId = await stock.part();
  const lot = await stock.lot(partId, { quantity: '2' });
  const job = await stock.job([{ partId, quantity: '2' }]);
  await accepted(owner.post('/api/picks', { code: lot.code, jobId: job.id, quantity: '2' }));
  return { jobId: job.id, thingId: lot.id };
}

const allBack = ({ stock }: WriteScene, thingId: string) => ({
  id: newId(),
  claims: 'given up',
  rows: [{ thingId, placeId: stock.placeId, quantity: '2' }],
});

/** Changes at the counter, and trays that are emptied. */
export const counterWrites: Record<string, MakeReady> = {
  'POST /api/sales': async (scene) => ({ path: '/api/sales', body: await saleOfOne(scene) }),
  'POST /api/sales/:id/taking-back': async (scene) => {
    const sale = await accepted(scene.owner.post<{ id: string; lines: { id: string }[] }>('/api/sales', await saleOfOne(scene)));
    return {
      path: `/api/sales/${sale.id}/taking-back`,
      body: {
        id: newId(),
        lineId: sale.lines[0]!.id,
        quantity: '1',
        placeId: scene.stock.placeId,
        why: 'it was the wrong side',
        money: 'cash back',
        givenBack: '6.25',
        fitted: false,
      },
    };
  },
  'POST /api/kept-for-jobs': async ({ stock }) => ({
    path: '/api/kept-for-jobs',
    body: { id: newId(), thingId: (await stock.lot(await stock.part())).id, reason: 'the last of them' },
  }),
  'POST /api/kept-for-jobs/:id/lifting': async (scene) => ({
    path: `/api/kept-for-jobs/${await kept(scene)}/lifting`,
    body: { why: 'a boxful came in' },
  }),
  'POST /api/jobs/:id/un-kits': async (scene) => {
    const { jobId, thingId } = await kitted(scene);
    return { path: `/api/jobs/${jobId}/un-kits`, body: allBack(scene, thingId) };
  },
  'POST /api/un-kits/:id/undoing': async (scene) => {
    const { jobId, thingId } = await kitted(scene);
    const { id } = await accepted(scene.owner.post<{ id: string }>(`/api/jobs/${jobId}/un-kits`, allBack(scene, thingId)));
    return { path: `/api/un-kits/${id}/undoing`, body: { id: newId() } };
  },
  'PUT /api/receipt-paper': async ({ owner }) => ({
    path: '/api/receipt-paper',
    body: { address: '4 Forge Lane', taxWords: fresh('No tax is shown'), footWords: '' },
    ifMatch: (await owner.get<{ version: number }>('/api/receipt-paper')).body.version,
  }),
};
