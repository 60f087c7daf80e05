import { newId } from '../../apps/api/src/platform/new-id.js';
import type { NamedOutOfBox } from '../../libs/contracts/src/boxes.js';
import { keyRow, openLoad, unsortedRow } from './load-stock.js';
import { PassDesk } from './pass-desk.js';
import { accepted, type MakeReady, type WriteScene } from './write-making.js';

/** A box of forty pieces, come with a load. */
async function box(scene: WriteScene): Promise<string> {
  const load = await openLoad(scene.owner);
  const row = await accepted(keyRow(scene.owner, load.id, unsortedRow({ placeId: scene.stock.placeId })));
  return `/api/boxes/${row.id}`;
}

const keys = () => ({ kind: 'lot', id: newId(), partId: null, words: 'taper keys', quantity: '2', source: 'bought used' });

async function opened(scene: WriteScene): Promise<{ path: string; takingId: string }> {
  const path = await box(scene);
  const { takingId } = await accepted(scene.owner.post<NamedOutOfBox>(`${path}/takings`, keys()));
  return { path, takingId };
}

/** Each route of what is unsorted or not yet identified that writes, with a change that it accepts. */
export const boxWrites: Record<string, MakeReady> = {
  'POST /api/boxes/:id/takings': async (scene) => ({ path: `${await box(scene)}/takings`, body: keys() }),
  'POST /api/boxes/:id/takings/:takingId/undoing': async (scene) => {
    const { path, takingId } = await opened(scene);
    return { path: `${path}/takings/${takingId}/undoing`, body: { why: 'they are lock tabs' } };
  },
  'POST /api/things/:id/answers': async ({ stock }) => ({
    path: `/api/things/${(await stock.unit()).id}/answers`,
    body: { id: newId(), toldBy: 'Mrs Ockley', words: 'off a hay press' },
  }),
  'POST /api/things/:id/passed-on': async ({ owner, stock }) => {
    const desk = new PassDesk(owner);
    const { id } = await desk.bought('box', '10', { placeId: stock.placeId });
    await desk.named(id, 'taper keys', '2');
    return { path: `/api/things/${id}/passed-on`, body: { way: 'equally' } };
  },
  'PUT /api/things/:id/passed-on/:partId/worth': async ({ owner, stock }) => {
    const { id } = await new PassDesk(owner).bought('box', '10', { placeId: stock.placeId });
    return { path: `/api/things/${id}/passed-on/${id}/worth`, body: { worth: '4', weightKg: '' }, ifMatch: 1 };
  },
  'POST /api/boxes/:id/emptying': async (scene) => ({
    path: `${(await opened(scene)).path}/emptying`,
    body: { why: 'the rest went through the floor' },
  }),
};
