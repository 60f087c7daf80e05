import { accepted, type MakeReady, type WriteScene } from './write-making.js';

async function lotFor({ stock }: WriteScene): Promise<{ jobId: string; lineId: string; thingId: string }> {
  const partId = await stock.part();
  const lot = await stock.lot(partId, { quantity: '5' });
  const job = await stock.job([{ partId, quantity: '4' }]);
  return { jobId: job.id, lineId: job.lineIds[0]!, thingId: lot.id };
}

async function reserved(scene: WriteScene) {
  const wanted = await lotFor(scene);
  const { jobId, lineId, thingId } = wanted;
  await accepted(
    scene.owner.post(`/api/jobs/${jobId}/reservations`, { until: null, lines: [{ lineId, thingId, quantity: '3' }] }),
  );
  const [claim] = await scene.stock.query<{ id: string }>('SELECT id FROM claims WHERE thing_id = $1', [thingId]);
  return { ...wanted, claimId: claim!.id };
}

/** Changes of reservations. */
export const reservationWrites: Record<string, MakeReady> = {
  'POST /api/jobs/:id/reservations': async (scene) => {
    const { jobId, lineId, thingId } = await lotFor(scene);
    return {
      path: `/api/jobs/${jobId}/reservations`,
      body: { until: '2999-01-31', lines: [{ lineId, thingId, quantity: '2' }] },
    };
  },
  'POST /api/reservations/release': async (scene) => ({
    path: '/api/reservations/release',
    body: { claimId: (await reserved(scene)).claimId, quantity: '1', reason: 'the customer keeps his own' },
  }),
  'POST /api/reservations/take': async (scene) => {
    const { thingId, jobId } = await reserved(scene);
    const [lot] = await scene.stock.query<{ partId: string }>('SELECT part_id AS "partId" FROM lots WHERE thing_id = $1', [
      thingId,
    ]);
    const other = await scene.stock.job([{ partId: lot!.partId, quantity: '2' }]);
    return {
      path: '/api/reservations/take',
      body: {
        thingId,
        fromJobId: jobId,
        toJobId: other.id,
        lineId: other.lineIds[0],
        quantity: '2',
        reason: 'it is promised first',
      },
    };
  },
};
