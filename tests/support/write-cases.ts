import { newId } from '../../apps/api/src/platform/new-id.js';
import { apartWrites } from './apart-writes.js';
import { boxWrites } from './box-writes.js';
import { consumableWrites } from './consumable-writes.js';
import { coreWrites } from './core-writes.js';
import { countWrites } from './count-writes.js';
import { counterWrites } from './counter-writes.js';
import { labelWrites } from './label-writes.js';
import { loadWrites } from './load-writes.js';
import { openingWrites } from './opening-desk.js';
import { keepPicture, onePoint, sendPieces } from './pictures.js';
import { placeWrites } from './place-writes.js';
import { reservationWrites } from './reservation-writes.js';
import { stripWrites } from './strip-writes.js';
import { accepted, dayAhead, fresh, type MakeReady, next, today, type WriteScene } from './write-making.js';

async function lotAndJob({ stock }: WriteScene): Promise<{ code: string; jobId: string; partId: string }> {
  const partId = await stock.part();
  const lot = await stock.lot(partId, { quantity: '5' });
  const job = await stock.job([{ partId, quantity: '4', reusable: true }]);
  return { code: lot.code, jobId: job.id, partId };
}

async function fitted(scene: WriteScene): Promise<{ actId: string; fittingId: string }> {
  const { code, jobId } = await lotAndJob(scene);
  return accepted(scene.owner.post<{ actId: string; fittingId: string }>('/api/fits', { code, jobId, quantity: '2' }));
}

async function receipt({ owner, stock }: WriteScene): Promise<string> {
  const id = newId();
  const order = {
    id,
    orderReference: fresh('Order'),
    supplierName: fresh('Veldrow Bearings'),
    partId: await stock.part(),
    quantity: '9',
    dueOn: null,
    confirmed: false,
    forJobId: null,
    note: '',
  };
  await accepted(owner.post('/api/receipts', order));
  return id;
}

const relationTo = (partId: string): Record<string, unknown> => ({
  kind: 'same as',
  toPartIds: [partId],
  evidence: { kind: 'measured', words: 'bore, outside and width with the micrometer' },
});

async function relation({ owner, stock }: WriteScene): Promise<string> {
  const path = `/api/parts/${await stock.part()}/relations`;
  const made = await accepted(owner.post<{ relations: { id: string }[] }>(path, relationTo(await stock.part())));
  return made.relations[0]!.id;
}

async function missing({ owner, stock }: WriteScene): Promise<string> {
  const path = `/api/things/${(await stock.lot(null)).id}`;
  await accepted(owner.post(`${path}/not-there`, { placeId: null }));
  return path;
}

const newPart = (): Record<string, unknown> => ({
  id: newId(),
  makerName: fresh('Halloran Seals'),
  number: fresh('HS'),
  name: 'Seal, worm input',
  unitOfMeasure: 'each',
  material: 'leather',
});

const substitute = (partId: string): Record<string, unknown> => ({
  id: newId(),
  partId,
  marking: 'illegible',
  bore: '25',
  outside: '52',
  width: '15',
  evidence: { kind: 'measured', words: 'with the micrometer' },
  deviation: 'half a millimetre wider; the spacer is faced',
  position: 'rear cover, off side',
  forEveryJob: true,
});

async function lineToServe({ stock }: WriteScene): Promise<{ path: string; partId: string }> {
  const job = await stock.job([{ partId: await stock.part() }]);
  return { path: `/api/jobs/${job.id}/lines/${job.lineIds[0]}/substitutes`, partId: await stock.part() };
}

async function person({ owner }: WriteScene): Promise<string> {
  const id = newId();
  await accepted(
    owner.post('/api/people', { id, displayName: 'Tom Hasleby', signInName: fresh('tom').replace(' ', ''), role: 'bench' }),
  );
  return id;
}

const ownBearing = () => ({
  designation: `CX${next()}`,
  type: 'taper roller',
  bore: '1 3/4',
  outside: '90',
  width: '25',
  chamfer: '',
  source: 'measured with the micrometer',
});

const ownSuffix = () => ({
  suffix: `Q${next()}`,
  aspect: 'seals',
  value: 'two contact seals',
  words: 'rubber lips on both sides',
  source: 'the box',
});

/** Sends a picture of a unit, and gives what keeps it. */
async function pictureArrived({ server, owner, stock }: WriteScene) {
  const keep = keepPicture((await stock.unit()).id, onePoint);
  await sendPieces(server.url, owner, keep.id, onePoint);
  return keep;
}

async function picture(scene: WriteScene): Promise<string> {
  return (await accepted(scene.owner.post<{ id: string }>('/api/pictures', await pictureArrived(scene)))).id;
}

/** Each route that writes and takes a key, with a change that it accepts. */
export const writeCases: Record<string, MakeReady> = {
  'POST /api/fits': async (scene) => ({ path: '/api/fits', body: { ...without(await lotAndJob(scene)), quantity: '2' } }),
  'POST /api/picks': async (scene) => ({ path: '/api/picks', body: { ...without(await lotAndJob(scene)), quantity: '2' } }),
  'POST /api/acts/:id/take-back': async (scene) => ({ path: `/api/acts/${(await fitted(scene)).actId}/take-back`, body: {} }),
  'POST /api/fittings/:id/removal': async (scene) => ({
    path: `/api/fittings/${(await fitted(scene)).fittingId}/removal`,
    body: { lotId: newId(), quantity: '1', placeId: scene.stock.placeId, why: 'the bore was scored' },
  }),
  'POST /api/put-aways': async ({ stock }) => ({
    path: '/api/put-aways',
    body: { code: (await stock.lot(null, { quantity: '3' })).code, placeId: (await stock.place()).id, quantity: '2' },
  }),
  'POST /api/things/:id/hold': async ({ stock }) => ({
    path: `/api/things/${(await stock.lot(null)).id}/hold`,
    body: { reason: 'crack detection' },
  }),
  'POST /api/things/:id/hold-lift': async ({ stock, owner }) => {
    const path = `/api/things/${(await stock.lot(null)).id}`;
    await accepted(owner.post(`${path}/hold`, { reason: 'crack detection' }));
    return { path: `${path}/hold-lift`, body: { reason: 'no crack was found' } };
  },
  'POST /api/things/:id/not-there': async ({ stock }) => ({
    path: `/api/things/${(await stock.lot(null)).id}/not-there`,
    body: { placeId: stock.placeId, note: 'looked behind the rack too' },
  }),
  'POST /api/things/:id/found': async (scene) => ({
    path: `${await missing(scene)}/found`,
    body: { placeId: (await scene.stock.place()).id },
  }),
  'POST /api/things/:id/posting-away': async (scene) => ({
    path: `${await missing(scene)}/posting-away`,
    body: { reason: 'the bag was empty' },
  }),
  'POST /api/things/:id/inspections': async ({ stock }) => ({
    path: `/api/things/${(await stock.lot(null)).id}/inspections`,
    body: { inspectedOn: today(), lookedAt: 'all faces, by daylight', passed: false, words: 'rust in the track' },
  }),
  'POST /api/things/:id/preservation': async ({ stock }) => ({
    path: `/api/things/${(await stock.lot(await stock.part())).id}/preservation`,
    body: { packing: 'open-preserved', store: 'dry' },
  }),
  'POST /api/bearing-tables/dimensions': async () => ({ path: '/api/bearing-tables/dimensions', body: ownBearing() }),
  'POST /api/bearing-tables/dimensions/strike': async ({ owner }) => {
    const bearing = ownBearing();
    await accepted(owner.post('/api/bearing-tables/dimensions', bearing));
    return { path: '/api/bearing-tables/dimensions/strike', body: { designation: bearing.designation, why: 'read wrong' } };
  },
  'POST /api/bearing-tables/suffixes': async () => ({ path: '/api/bearing-tables/suffixes', body: ownSuffix() }),
  'POST /api/bearing-tables/suffixes/strike': async ({ owner }) => {
    const suffix = ownSuffix();
    await accepted(owner.post('/api/bearing-tables/suffixes', suffix));
    return { path: '/api/bearing-tables/suffixes/strike', body: { suffix: suffix.suffix, why: 'another maker’s' } };
  },
  ...stripWrites,
  ...consumableWrites,
  ...counterWrites,
  ...placeWrites,
  'POST /api/units/:id/identification': async ({ stock }) => {
    const [makerId, unitTypeId] = [newId(), newId()];
    await stock.query('INSERT INTO makers (id, name) VALUES ($1, $2)', [makerId, fresh('Brantock')]);
    await stock.query("INSERT INTO unit_types (id, reference, maker_id, kind, model) VALUES ($1, $2, $3, 'Axle', 'WD7')", [
      unitTypeId,
      fresh('WD7'),
      makerId,
    ]);
    return {
      path: `/api/units/${(await stock.unit()).id}/identification`,
      body: { id: newId(), unitTypeId, reading: { serial: 'WD7 3306' } },
    };
  },
  'POST /api/flags/:id/settle': async ({ stock }) => {
    const id = newId();
    await stock.query("INSERT INTO stores_flags (id, thing_id, kind, words) VALUES ($1, $2, 'found in hand', 'two of them')", [
      id,
      (await stock.lot(null)).id,
    ]);
    return { path: `/api/flags/${id}/settle`, body: { words: 'counted' } };
  },
  'POST /api/places': async () => ({
    path: '/api/places',
    body: { id: newId(), parentId: null, name: fresh('Rack'), kind: 'rack' },
  }),
  'POST /api/firms': async () => ({
    path: '/api/firms',
    body: { id: newId(), name: fresh('Strake Grinding'), isCustomer: false, isSupplier: false, isOutworker: true },
  }),
  'POST /api/pictures': async (scene) => ({ path: '/api/pictures', body: await pictureArrived(scene) }),
  'PATCH /api/pictures/:id': async (scene) => ({
    path: `/api/pictures/${await picture(scene)}`,
    body: { words: 'the plate, before it was cleaned', ofMarks: true },
    ifMatch: 1,
  }),
  'POST /api/pictures/:id/strike': async (scene) => ({
    path: `/api/pictures/${await picture(scene)}/strike`,
    body: { reason: 'blurred' },
  }),
  ...apartWrites,
  ...coreWrites,
  ...countWrites,
  ...loadWrites,
  ...openingWrites,
  ...boxWrites,
  ...labelWrites,
  ...reservationWrites,
  'POST /api/parts': async () => ({ path: '/api/parts', body: newPart() }),
  'PATCH /api/parts/:id': async ({ owner }) => {
    const part = newPart();
    await accepted(owner.post('/api/parts', part));
    return {
      path: `/api/parts/${part.id}`,
      body: { name: 'Oil seal', description: '', nicknames: 'the big seal', material: 'rubber', polymer: 'NBR' },
      ifMatch: 1,
    };
  },
  'POST /api/parts/:id/nicknames': async ({ stock }) => ({
    path: `/api/parts/${await stock.part()}/nicknames`,
    body: { words: 'the squeaky one' },
  }),
  'POST /api/places/:id/nicknames': async ({ stock }) => ({
    path: `/api/places/${(await stock.place()).id}/nicknames`,
    body: { words: 'the cold shelf' },
  }),
  'POST /api/parts/:id/numbers': async ({ stock }) => ({
    path: `/api/parts/${await stock.part()}/numbers`,
    body: { makerName: fresh('Halloran Seals'), number: fresh('H 40'), yearFirst: 1948, yearLast: null },
  }),
  'POST /api/parts/:id/relations': async ({ stock }) => ({
    path: `/api/parts/${await stock.part()}/relations`,
    body: relationTo(await stock.part()),
  }),
  'POST /api/relations/:id/withdrawal': async (scene) => ({
    path: `/api/relations/${await relation(scene)}/withdrawal`,
    body: { why: 'the width was read wrong' },
  }),
  'POST /api/receipts': async ({ stock }) => ({
    path: '/api/receipts',
    body: {
      id: newId(),
      orderReference: fresh('Order'),
      supplierName: fresh('Halloran Seals'),
      partId: await stock.part(),
      quantity: '2',
      dueOn: null,
      confirmed: false,
      forJobId: null,
    },
  }),
  'PATCH /api/receipts/:id': async (scene) => ({
    path: `/api/receipts/${await receipt(scene)}`,
    body: { dueOn: '2030-03-01', confirmed: true, forJobId: null, calledOff: false, note: 'by post' },
    ifMatch: 1,
  }),
  'POST /api/receipts/:id/arrivals': async (scene) => ({
    path: `/api/receipts/${await receipt(scene)}/arrivals`,
    body: { lotId: newId(), quantity: '4', placeId: scene.stock.placeId, source: 'new', make: 'genuine' },
  }),
  'POST /api/jobs': async ({ stock }) => ({
    path: '/api/jobs',
    body: { id: newId(), unitCode: (await stock.unit()).code, buildStandard: 'serviceable' },
  }),
  'PATCH /api/jobs/:id': async (scene) => ({
    path: `/api/jobs/${(await lotAndJob(scene)).jobId}`,
    body: { title: 'Rear axle', wanted: 'quiet', buildStandard: 'as original', priority: 1, state: 'building' },
    ifMatch: 1,
  }),
  'POST /api/jobs/:id/lines': async ({ stock }) => {
    const job = await stock.job([]);
    return {
      path: `/api/jobs/${job.id}/lines`,
      body: { id: newId(), partId: await stock.part(), quantity: '2', operationId: job.operationId, critical: true },
    };
  },
  'POST /api/jobs/:id/lines/:lineId/waive': async ({ stock }) => {
    const job = await stock.job([{ partId: await stock.part() }]);
    return { path: `/api/jobs/${job.id}/lines/${job.lineIds[0]}/waive`, body: { reason: 'the customer keeps his own' } };
  },
  'POST /api/jobs/:id/lines/:lineId/findings': async ({ stock }) => {
    const job = await stock.job([{ partId: await stock.part(), quantity: '4', reusable: true }]);
    return {
      path: `/api/jobs/${job.id}/lines/${job.lineIds[0]}/findings`,
      body: { quantityReused: '3', quantityReplaced: '1', words: 'one is chipped' },
    };
  },
  'POST /api/jobs/:id/lines/:lineId/substitutes': async (scene) => {
    const { path, partId } = await lineToServe(scene);
    return { path, body: substitute(partId) };
  },
  'POST /api/substitutes/:id/withdrawal': async (scene) => {
    const { path, partId } = await lineToServe(scene);
    const made = await accepted(scene.owner.post<{ substitute: { id: string } }>(path, substitute(partId)));
    return { path: `/api/substitutes/${made.substitute.id}/withdrawal`, body: { why: 'it was measured wrong' } };
  },
  'PATCH /api/build-standards/:id': async ({ owner }) => {
    const { body } = await owner.get<{ standards: { id: string; version: number }[] }>('/api/build-standards');
    const { id, version } = body.standards[0]!;
    return {
      path: `/api/build-standards/${id}`,
      body: { ways: ['same as'], sources: [], makes: ['genuine'], gradeLeast: '' },
      ifMatch: version,
    };
  },
  'PATCH /api/jobs/:id/operations/:operationId': async ({ stock }) => {
    const job = await stock.job([]);
    return { path: `/api/jobs/${job.id}/operations/${job.operationId}`, body: { minutesLeft: 120 }, ifMatch: 1 };
  },
  'POST /api/jobs/:id/dates': async (scene) => ({
    path: `/api/jobs/${(await lotAndJob(scene)).jobId}/dates`,
    body: { given: '2035-05-01', reason: 'the customer has the part' },
  }),
  'PUT /api/calendar/week': async () => ({
    path: '/api/calendar/week',
    body: { weekMinutes: [400 + next(), 480, 480, 480, 420, 0, 0] },
  }),
  'POST /api/calendar/closed-days': async () => ({
    path: '/api/calendar/closed-days',
    body: { day: dayAhead(), reason: 'stocktaking' },
  }),
  'POST /api/calendar/closed-days/:day/open': async ({ owner }) => {
    const day = dayAhead();
    await accepted(owner.post('/api/calendar/closed-days', { day, reason: 'stocktaking' }));
    return { path: `/api/calendar/closed-days/${day}/open`, body: {} };
  },
  'POST /api/warnings/:id/settle': async ({ stock }) => {
    const job = await stock.job([{ partId: await stock.part() }]);
    const id = newId();
    await stock.query(
      "INSERT INTO warnings (id, kind, job_id, subject_key, words, why) VALUES ($1, 'cover lost', $2, $3, 'Worm: 1 lacking, and it was covered', '')",
      [id, job.id, `cover ${id}`],
    );
    return { path: `/api/warnings/${id}/settle`, body: { note: 'one is borrowed' } };
  },
  'POST /api/people': async () => ({
    path: '/api/people',
    body: { id: newId(), displayName: 'Wilf Peskett', signInName: fresh('wilf').replace(' ', ''), role: 'stores' },
  }),
  'PATCH /api/people/:id': async (scene) => ({
    path: `/api/people/${await person(scene)}`,
    body: { displayName: 'Thomas Hasleby', role: 'stores', active: true },
    ifMatch: 1,
  }),
  'PUT /api/label-printers/:id': async () => ({
    path: `/api/label-printers/${newId()}`,
    body: { name: fresh('Printer'), stock: 'tie-on tag', dotsPerInch: 203 },
  }),
  'POST /api/code-blocks': async () => ({ path: '/api/code-blocks', body: { id: newId(), kind: 'lot', count: 3 } }),
  'POST /api/label-runs': async ({ stock }) => ({
    path: '/api/label-runs',
    body: { id: newId(), codes: [(await stock.unit()).code], stock: 'tie-on tag', dotsPerInch: 300 },
  }),
  'POST /api/imports': async () => ({
    path: '/api/imports?apply=yes',
    body: null,
    files: {
      'closed-days': { name: 'closed-days.csv', bytes: Buffer.from(`day,reason\n${dayAhead()},stocktaking\n`), type: 'text/csv' },
    },
  }),
};

function without({ code, jobId }: { code: string; jobId: string }): { code: string; jobId: string } {
  return { code, jobId };
}
