import { newId } from '../../apps/api/src/platform/new-id.js';
import { StripBench, unitTypeOf } from './strip-bench.js';
import { accepted, fresh, type MakeReady, type WriteScene } from './write-making.js';

/** A unit open on the bench, with a part for stores, one that is always replaced, and one that stays. */
async function openedUnit({ owner, stock }: WriteScene): Promise<StripBench> {
  const partId = await stock.part();
  const unitTypeId = await unitTypeOf(stock, [
    { name: 'Cross', partId },
    { name: 'Seal', usualFate: 'replace' },
    { name: 'Casing' },
  ]);
  return StripBench.open(owner, await stock.unit({ unitTypeId }));
}

async function pairToBind({ stock }: WriteScene): Promise<Record<string, unknown>> {
  const [one, other] = [await stock.lot(await stock.part()), await stock.lot(await stock.part())];
  const members = [one, other].map(({ code }) => ({ code, stamped: '1342' }));
  return { id: newId(), words: 'wheel and pinion', members };
}

/** Each route that writes what is found in a unit and what belongs together, with a change that it accepts. */
export const stripWrites: Record<string, MakeReady> = {
  'POST /api/units/:id/components': async ({ stock }) => ({
    path: `/api/units/${(await stock.unit()).id}/components`,
    body: { id: newId(), position: 3, name: 'Half shaft, near side', partId: null, placeId: stock.placeId },
  }),
  'POST /api/units/:id/strip-downs': async ({ stock }) => ({
    path: `/api/units/${(await stock.unit()).id}/strip-downs`,
    body: { id: newId() },
  }),
  'POST /api/strip-downs/:id/findings': async (scene) => ({
    path: `/api/strip-downs/${(await openedUnit(scene)).id}/findings`,
    body: {
      id: newId(),
      position: 1,
      quantity: '1',
      finding: 'worn',
      disposition: 'to stores',
      placeId: scene.stock.placeId,
    },
  }),
  'POST /api/strip-downs/:id/usual-fate': async (scene) => ({
    path: `/api/strip-downs/${(await openedUnit(scene)).id}/usual-fate`,
    body: {},
  }),
  'POST /api/strip-downs/:id/finish': async (scene) => {
    const bench = await openedUnit(scene);
    await accepted(bench.rest(null));
    return { path: `/api/strip-downs/${bench.id}/finish`, body: {} };
  },
  'POST /api/units/:id/casing-replacement': async ({ stock }) => ({
    path: `/api/units/${(await stock.unit()).id}/casing-replacement`,
    body: { id: newId(), unitCode: (await stock.unit()).code, why: 'cracked at the spring seat' },
  }),
  'POST /api/kept-sets': async (scene) => ({ path: '/api/kept-sets', body: await pairToBind(scene) }),
  'POST /api/kept-sets/:id/breaking': async (scene) => {
    const set = await pairToBind(scene);
    await accepted(scene.owner.post('/api/kept-sets', set));
    return { path: `/api/kept-sets/${set.id}/breaking`, body: { onWordOf: 'Mary Pellister', why: 'the pinion is chipped' } };
  },
  'PUT /api/finding-words/:id': async () => ({ path: `/api/finding-words/${newId()}`, body: { word: fresh('glazed') } }),
  'PUT /api/finding-words/:id, put right': async ({ owner }) => {
    const path = `/api/finding-words/${newId()}`;
    await accepted(owner.put(path, { word: fresh('glazed') }));
    return { path, body: { word: fresh('glazed'), retired: true }, ifMatch: 1 };
  },
  'PATCH /api/unit-types/:id/components/:position': async ({ stock }) => ({
    path: `/api/unit-types/${await unitTypeOf(stock, [{ name: 'Cross' }])}/components/1`,
    body: {
      partId: await stock.part(),
      mustBeLookedAt: true,
      usualFate: 'to stores',
      keptSet: '',
      isMainCasing: false,
      keepsThickness: false,
    },
    ifMatch: 1,
  }),
};
