import { newId } from '../../apps/api/src/platform/new-id.js';
import { accepted, fresh, type MakeReady, today, type WriteScene } from './write-making.js';

const settings = (facts: Record<string, unknown> = {}): Record<string, unknown> => ({
  container: 'cartridge',
  keepsDays: 90,
  oneAtATime: true,
  charged: 'by use',
  useAmount: '',
  usesPerContainer: 20,
  flat: [],
  ...facts,
});

/** A part that is a consumable, and a lot of full containers of it. */
async function consumable({ owner, stock }: WriteScene, facts: Record<string, unknown> = {}, quantity = '3') {
  const partId = await stock.part({ name: 'Sealant', material: 'other' });
  await accepted(owner.put(`/api/parts/${partId}/consumable`, settings(facts)));
  return { partId, lot: await stock.lot(partId, { quantity }) };
}

async function opened(scene: WriteScene): Promise<{ partId: string; thingId: string }> {
  const { partId, lot } = await consumable(scene);
  const { thing } = await accepted(
    scene.owner.post<{ thing: { id: string } }>(`/api/things/${lot.id}/opening`, { openedOn: today() }),
  );
  return { partId, thingId: thing.id };
}

async function used(scene: WriteScene): Promise<{ id: string }> {
  const { partId } = await opened(scene);
  const job = await scene.stock.job([]);
  const path = `/api/jobs/${job.id}/consumable-uses`;
  const { rows } = await accepted(scene.owner.post<{ rows: { id: string }[] }>(path, { partId, uses: 1 }));
  return rows[0]!;
}

/** Changes of consumables and of minimums. */
export const consumableWrites: Record<string, MakeReady> = {
  'PUT /api/parts/:id/consumable': async ({ stock }) => ({
    path: `/api/parts/${await stock.part({ material: 'other' })}/consumable`,
    body: settings(),
  }),
  'POST /api/parts/:id/consumable/withdrawal': async (scene) => ({
    path: `/api/parts/${(await consumable(scene)).partId}/consumable/withdrawal`,
    body: { why: 'it is bought by the piece now' },
    ifMatch: 1,
  }),
  'PUT /api/parts/:id/minimum': async ({ stock }) => ({
    path: `/api/parts/${await stock.part()}/minimum`,
    body: { minimum: '4', upTo: '10', supplierName: fresh('Veldrow Bearings'), note: '' },
  }),
  'POST /api/parts/:id/minimum/removal': async ({ owner, stock }) => {
    const path = `/api/parts/${await stock.part()}/minimum`;
    await accepted(owner.put(path, { minimum: '4', upTo: '10' }));
    return { path: `${path}/removal`, body: {}, ifMatch: 1 };
  },
  'POST /api/things/:id/use-by': async (scene) => ({
    path: `/api/things/${(await consumable(scene)).lot.id}/use-by`,
    body: { useBy: '2999-05-31' },
  }),
  'POST /api/things/:id/opening': async (scene) => ({
    path: `/api/things/${(await consumable(scene)).lot.id}/opening`,
    body: { openedOn: today(), placeId: scene.stock.placeId },
  }),
  'POST /api/things/:id/container-end': async (scene) => ({
    path: `/api/things/${(await opened(scene)).thingId}/container-end`,
    body: { how: 'empty', words: '' },
  }),
  'POST /api/things/:id/not-opened': async (scene) => ({
    path: `/api/things/${(await opened(scene)).thingId}/not-opened`,
    body: { why: 'pressed the wrong one' },
  }),
  'POST /api/things/:id/container-found': async (scene) => {
    const { thingId } = await opened(scene);
    await accepted(scene.owner.post(`/api/things/${thingId}/container-end`, { how: 'thrown away', words: 'hard' }));
    return { path: `/api/things/${thingId}/container-found`, body: { placeId: scene.stock.placeId, words: 'half full' } };
  },
  'POST /api/jobs/:id/consumable-uses': async (scene) => ({
    path: `/api/jobs/${(await scene.stock.job([])).id}/consumable-uses`,
    body: { partId: (await opened(scene)).partId, uses: 2 },
  }),
  'POST /api/consumable-uses/:id/putting-right': async (scene) => ({
    path: `/api/consumable-uses/${(await used(scene)).id}/putting-right`,
    body: { why: 'charged to the wrong job' },
  }),
  'POST /api/jobs/:id/flat-charges/:chargeId/dropping': async (scene) => {
    const flat = { charged: 'flat', usesPerContainer: null, flat: [{ unitTypeId: null, amount: '6.50' }] };
    const { partId } = await consumable(scene, flat);
    const job = await scene.stock.job([]);
    const { rows } = (await scene.owner.get<{ rows: { id: string; part: { id: string } }[] }>(`/api/jobs/${job.id}/consumables`))
      .body;
    const charge = rows.find(({ part }) => part.id === partId);
    return {
      path: `/api/jobs/${job.id}/flat-charges/${charge?.id ?? newId()}/dropping`,
      body: { why: 'the customer brought his own' },
    };
  },
};
