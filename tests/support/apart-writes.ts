import { newId } from '../../apps/api/src/platform/new-id.js';
import { accepted, fresh, type MakeReady, today, type WriteScene } from './write-making.js';

/** Far enough ahead that no test outlives it. */
const later = '2099-01-05';

const foundProperty = (placeId: string): Record<string, unknown> => ({
  id: newId(),
  thingId: newId(),
  name: fresh('tin of split pins'),
  quantity: '3',
  placeId,
  foundWhere: 'under the long bench',
  foundBy: 'Tom Hasleby',
  since: today(),
  askWhom: 'the van driver',
  lookAgainOn: later,
});

async function kept({ owner, stock }: WriteScene): Promise<string> {
  const body = foundProperty(stock.placeId);
  await accepted(owner.post('/api/found-property', body));
  return `/api/kept-for-owners/${body.id}`;
}

async function condemned({ owner, stock }: WriteScene): Promise<string> {
  const path = `/api/things/${(await stock.lot(null)).id}`;
  await accepted(owner.post(`${path}/condemnation`, { reason: 'cracked through', noPicture: 'the camera is away' }));
  return path;
}

/** What writes to goods that stand apart from stock. */
export const apartWrites: Record<string, MakeReady> = {
  'POST /api/places/:id/holds': async ({ stock }) => {
    const place = await stock.place();
    await stock.lot(null, { placeId: place.id });
    return {
      path: `/api/places/${place.id}/holds`,
      body: { reason: 'out of a flooded shed', mayLiftId: null, lookAgainOn: later },
    };
  },
  'POST /api/things/:id/hold-on': async ({ stock, owner }) => {
    const path = `/api/things/${(await stock.lot(null)).id}`;
    await accepted(owner.post(`${path}/hold`, { reason: 'crack detection' }));
    return { path: `${path}/hold-on`, body: { words: 'not back from the firm yet', lookAgainOn: later } };
  },
  'POST /api/things/:id/condemnation': async ({ stock }) => ({
    path: `/api/things/${(await stock.lot(null)).id}/condemnation`,
    body: { reason: 'cracked through', noPicture: 'the camera is away' },
  }),
  'POST /api/things/:id/disposal': async (scene) => ({
    path: `${await condemned(scene)}/disposal`,
    body: { how: 'scrapped', words: 'in the iron skip' },
  }),
  'POST /api/things/:id/owner': async ({ stock }) => ({
    path: `/api/things/${(await stock.lot(null, { ownerId: await stock.customer() })).id}/owner`,
    body: { how: 'bought', price: '12.50', on: today(), words: 'paid in cash' },
  }),
  'POST /api/found-property': async ({ stock }) => ({ path: '/api/found-property', body: foundProperty(stock.placeId) }),
  'POST /api/things/:id/kept-for-owner': async ({ stock }) => ({
    path: `/api/things/${(await stock.lot(null, { ownerId: await stock.customer() })).id}/kept-for-owner`,
    body: { id: newId(), kind: 'left over from a job', words: 'two shims', since: today(), askWhom: '', lookAgainOn: later },
  }),
  'POST /api/kept-for-owners/:id/notes': async (scene) => ({
    path: `${await kept(scene)}/notes`,
    body: {
      id: newId(),
      way: 'letter',
      on: today(),
      withWhom: 'the carrier',
      words: 'asked whose it may be',
      lookAgainOn: later,
    },
  }),
  'POST /api/kept-for-owners/:id/ending': async (scene) => ({
    path: `${await kept(scene)}/ending`,
    body: { how: 'scrapped', words: 'in the iron skip', restsOn: 'advice taken of the town’s advisers' },
  }),
};
