import { newId } from '../../apps/api/src/platform/new-id.js';
import { CountingDesk, decisionOn } from './counting-desk.js';
import { accepted, type MakeReady, type WriteScene } from './write-making.js';

/** A place in which a bag of three lies, being counted. */
async function underWay({ owner, stock }: WriteScene) {
  const desk = new CountingDesk(owner);
  const place = await stock.place();
  const lot = await stock.lot(await stock.part(), { quantity: '3', placeId: place.id });
  const { count } = await accepted(desk.take(place));
  return { desk, place, lot, countId: count.id };
}

/** The same with two of the three counted and the place closed. */
async function differing(scene: WriteScene) {
  const made = await underWay(scene);
  await accepted(made.desk.enter(made.place, made.lot, '2'));
  await accepted(made.desk.close(made.place));
  return { ...made, line: await made.desk.line(made.countId, made.lot, made.place) };
}

async function finding(scene: WriteScene): Promise<string> {
  const { place } = await underWay(scene);
  const id = newId();
  await accepted(scene.owner.post('/api/count-findings', { id, kind: 'no label', placeId: place.id, words: 'a bag of springs' }));
  return id;
}

/** Each route that writes what was counted, with a change that it accepts. */
export const countWrites: Record<string, MakeReady> = {
  'POST /api/counts': async ({ stock }) => ({
    path: '/api/counts',
    body: { id: newId(), placeId: (await stock.place()).id, partId: null },
  }),
  'POST /api/count-places': async ({ stock }) => ({ path: '/api/count-places', body: { code: (await stock.place()).code } }),
  'POST /api/count-entries': async (scene) => {
    const { place, lot } = await underWay(scene);
    return { path: '/api/count-entries', body: { placeId: place.id, code: lot.code, quantity: '3' } };
  },
  'POST /api/count-entries/:id/strike': async (scene) => {
    const { desk, place, lot } = await underWay(scene);
    const { actId } = await accepted(desk.enter(place, lot, '3'));
    return { path: `/api/count-entries/${actId}/strike`, body: { why: 'scanned by mistake' } };
  },
  'POST /api/count-closings': async (scene) => ({
    path: '/api/count-closings',
    body: { placeId: (await underWay(scene)).place.id },
  }),
  'POST /api/count-findings': async (scene) => ({
    path: '/api/count-findings',
    body: { id: newId(), kind: 'no label', placeId: (await underWay(scene)).place.id, words: 'a bag of springs', quantity: 14 },
  }),
  'POST /api/count-findings/:id/end': async (scene) => ({
    path: `/api/count-findings/${await finding(scene)}/end`,
    body: { how: 'made unsorted', why: '' },
  }),
  'POST /api/counts/:id/decisions': async (scene) => {
    const { countId, line } = await differing(scene);
    return { path: `/api/counts/${countId}/decisions`, body: { lines: [decisionOn(line, 'post')] } };
  },
  'POST /api/count-decisions/:id/take-back': async (scene) => {
    const { desk, countId, line, lot, place } = await differing(scene);
    await accepted(desk.decide(countId, line, 'post'));
    const { decided } = await desk.line(countId, lot, place);
    return { path: `/api/count-decisions/${decided?.id}/take-back`, body: { why: 'another bag' } };
  },
  'POST /api/counts/:id/end': async (scene) => {
    const { desk, countId, line } = await differing(scene);
    await accepted(desk.decide(countId, line, 'post'));
    return { path: `/api/counts/${countId}/end`, body: { ending: 'posted', why: '' } };
  },
  'PUT /api/count-settings': async ({ owner }) => {
    const { version } = (await owner.get<{ version: number }>('/api/count-settings')).body;
    return {
      path: '/api/count-settings',
      body: { scarceAtMost: '2', scarceDays: 28, usualDays: 200, terms: [] },
      ifMatch: version,
    };
  },
  'PUT /api/parts/:id/count-mark': async ({ stock }) => ({
    path: `/api/parts/${await stock.part()}/count-mark`,
    body: { scarce: true },
  }),
};
