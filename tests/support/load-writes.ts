import { newId } from '../../apps/api/src/platform/new-id.js';
import { accepted, fresh, type MakeReady, today, type WriteScene } from './write-making.js';

async function load({ owner }: WriteScene): Promise<string> {
  const id = newId();
  await accepted(
    owner.post('/api/loads', { id, words: fresh('Barn clearance'), sellerName: 'Dunmarrow Breakers', boughtOn: today() }),
  );
  return id;
}

const lotRow = ({ stock }: WriteScene): Record<string, unknown> => ({
  kind: 'lot',
  position: 1,
  partId: null,
  words: 'a bag of shims',
  quantity: '7',
  placeId: stock.placeId,
});

async function loadRow(scene: WriteScene): Promise<string> {
  const path = `/api/loads/${await load(scene)}/rows/${newId()}`;
  await accepted(scene.owner.put(path, lotRow(scene)));
  return path;
}

/** A load that was paid for, with one row. */
async function paidLoad(scene: WriteScene): Promise<string> {
  const path = await loadRow(scene);
  const cost = `${path.split('/rows/')[0]}/cost`;
  await accepted(scene.owner.patch(cost, { price: '120', haulage: '', fees: '0', currency: 'GBP' }, { ifMatch: 1 }));
  return cost;
}

/** Each route of loads that writes, with a change that it accepts. */
export const loadWrites: Record<string, MakeReady> = {
  'POST /api/loads': async () => ({
    path: '/api/loads',
    body: { id: newId(), words: fresh('Two axles'), sellerName: fresh('R. Sandiman'), boughtOn: today() },
  }),
  'PUT /api/loads/:id/rows/:rowId': async (scene) => ({
    path: `/api/loads/${await load(scene)}/rows/${newId()}`,
    body: lotRow(scene),
  }),
  'PUT /api/loads/:id/rows/:rowId, put right': async (scene) => ({
    path: await loadRow(scene),
    body: { ...lotRow(scene), quantity: '5' },
    ifMatch: 1,
  }),
  'POST /api/loads/:id/rows/:rowId/strike': async (scene) => ({
    path: `${await loadRow(scene)}/strike`,
    body: { reason: 'keyed twice' },
    ifMatch: 1,
  }),
  'PATCH /api/loads/:id/cost': async (scene) => ({
    path: `/api/loads/${await load(scene)}/cost`,
    body: {
      price: '1250.50',
      haulage: '80',
      fees: '',
      currency: 'EUR',
      rate: '0.8642',
      said: [{ words: 'two axles', quantity: 2 }],
    },
    ifMatch: 1,
  }),
  'PUT /api/loads/:id/rows/:rowId/worth': async (scene) => ({
    path: `${await loadRow(scene)}/worth`,
    body: { worth: '40', weightKg: '1.25' },
    ifMatch: 1,
  }),
  'POST /api/loads/:id/cost-shares': async (scene) => ({
    path: `${await paidLoad(scene)}-shares`,
    body: { way: 'equally', why: 'all of a kind' },
  }),
};
