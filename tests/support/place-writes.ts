import { newId } from '../../apps/api/src/platform/new-id.js';
import { accepted, fresh, type MakeReady, type WriteScene } from './write-making.js';

/** A place of the books as the screens make it. */
async function place({ owner }: WriteScene, kind: string, parentId: string | null = null): Promise<string> {
  const id = newId();
  await accepted(owner.post('/api/places', { id, parentId, name: fresh('Rack'), kind }));
  return id;
}

/** The changes of places and of all that lies in one. */
export const placeWrites: Record<string, MakeReady> = {
  'PATCH /api/places/:id': async (scene) => ({
    path: `/api/places/${await place(scene, 'rack')}`,
    body: { name: fresh('Long rack'), kind: 'rack', nicknames: 'by the door' },
    ifMatch: 1,
  }),
  'POST /api/places/:id/carrying': async (scene) => ({
    path: `/api/places/${await place(scene, 'bin')}/carrying`,
    body: { parentId: await place(scene, 'rack') },
    ifMatch: 1,
  }),
  'POST /api/places/:id/closing': async (scene) => ({
    path: `/api/places/${await place(scene, 'bin')}/closing`,
    body: {},
    ifMatch: 1,
  }),
  'POST /api/places/:id/opening': async (scene) => {
    const path = `/api/places/${await place(scene, 'bin')}`;
    await accepted(scene.owner.post(`${path}/closing`, {}, { ifMatch: 1 }));
    return { path: `${path}/opening`, body: {}, ifMatch: 2 };
  },
  'POST /api/contents-moves': async ({ stock }) => {
    const from = await stock.place();
    await stock.lot(null, { quantity: '3', placeId: from.id });
    return { path: '/api/contents-moves', body: { fromPlaceId: from.id, toPlaceId: (await stock.place()).id } };
  },
};
