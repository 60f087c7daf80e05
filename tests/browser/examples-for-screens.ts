/** What of the example workshop the screens are looked at with, and what a test makes of it for them. */
import type { z } from 'zod';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { makeCode } from '../../libs/codes/src/label-code.js';
import type { PartPage } from '../../libs/contracts/src/catalogue.js';
import type { NotOurs } from '../../libs/contracts/src/goods-apart.js';
import type { LoadList } from '../../libs/contracts/src/goods-in.js';
import type { UnidentifiedList } from '../../libs/contracts/src/identify.js';
import type { JobCard, JobList } from '../../libs/contracts/src/jobs.js';
import type { PlacePage } from '../../libs/contracts/src/places.js';
import type { SearchAnswer } from '../../libs/contracts/src/stores.js';
import { CountingDesk } from '../support/counting-desk.js';
import { LabelDesk } from '../support/label-changes.js';
import { OpeningDesk } from '../support/opening-desk.js';
import { PassDesk } from '../support/pass-desk.js';
import { phonePhotograph, sendPicture } from '../support/pictures.js';
import { opened, sealantIn } from '../support/sealant.js';
import type { Scene } from './scene.js';

/** A shelf that is begun, with a row that somebody photographed. */
async function begunShelf(scene: Scene): Promise<string> {
  const desk = new OpeningDesk(scene.owner);
  const shelf = await desk.shelf('Z 1', await desk.shelf('Rack Z', null, 'rack'));
  const row = await desk.keyed(shelf, { words: 'oil flinger rings', count: '12' });
  await sendPicture(scene.server.url, scene.owner, row.id, await phonePhotograph(800, 600));
  return shelf;
}

/** A unit of the example by what is stamped on it. */
async function unitMarked(owner: Scene['owner'], marks: string): Promise<{ id: string }> {
  const { hits } = (await owner.get<z.infer<typeof SearchAnswer>>(`/api/search?q=${marks}`)).body;
  const unit = hits.find((hit) => hit.kind === 'unit');
  if (!unit) throw new Error(`The example workshop has lost its core ${marks}.`);
  return unit;
}

/** A core of the example, open on the bench, with one component recorded. */
async function openedUnit(owner: Scene['owner']): Promise<{ id: string; unitTypeId: string }> {
  const unit = await unitMarked(owner, 'WD75544');
  const id = newId();
  await owner.post(`/api/units/${unit.id}/strip-downs`, { id });
  const finding = { id: newId(), position: 8, quantity: '1', finding: 'good', disposition: 'left in place' };
  await owner.post(`/api/strip-downs/${id}/findings`, finding);
  const { body } = await owner.get<{ unitType: { id: string } }>(`/api/things/${unit.id}`);
  return { id: unit.id, unitTypeId: body.unitType.id };
}

/** A bin of the example of which one thing was counted wrong and the rest was not found. */
async function countedBin(owner: Scene['owner'], place: { id: string; code: string }): Promise<{ id: string }> {
  const desk = new CountingDesk(owner);
  const { contents } = (await owner.get<PlacePage>(`/api/places/${place.id}`)).body;
  const lot = contents.find(({ kind }) => kind === 'lot');
  return { id: await desk.counted(place, lot === undefined ? [] : [[lot, '7']]) };
}

/** Something condemned, something found, and a customer whose goods lie here. */
async function standingApart(owner: Scene['owner'], placeId: string): Promise<{ theirs: string; condemned: string }> {
  const found = (name: string) => ({
    id: newId(),
    thingId: newId(),
    name,
    placeId,
    foundWhere: 'under the long bench',
    foundBy: 'Tom Hasleby',
    since: '2026-01-05',
    askWhom: 'the man with the red van',
    lookAgainOn: '2099-01-05',
  });
  const plate = found('Lapping plate in a sack');
  await owner.post('/api/found-property', plate);
  const note = { id: newId(), way: 'letter', on: '2026-01-06', withWhom: 'the carrier', words: 'asked whose it may be' };
  await owner.post(`/api/kept-for-owners/${plate.id}/notes`, note);
  const { owners } = (await owner.get<NotOurs>('/api/not-ours')).body;
  const theirs = owners.find(({ isKnown }) => isKnown)?.owner.id;
  const { hits } = (await owner.get<z.infer<typeof SearchAnswer>>('/api/search?q=48-2298')).body;
  const part = hits.find(({ kind }) => kind === 'part');
  const condemned = (await owner.get<PartPage>(`/api/parts/${part?.id}`)).body.lots[0]?.id;
  if (theirs === undefined || condemned === undefined)
    throw new Error('The example workshop lacks a customer’s goods or its plates.');
  await owner.post(`/api/things/${condemned}/condemnation`, { reason: 'etched through', noPicture: 'the camera is away' });
  return { theirs, condemned };
}

export async function examplesFor(scene: Scene) {
  const { owner } = scene;
  const loads = (await owner.get<z.infer<typeof LoadList>>('/api/loads')).body.loads;
  const jobs = (await owner.get<z.infer<typeof JobList>>('/api/jobs')).body.jobs;
  const job = jobs.find((each) => each.code === makeCode('J', 107));
  const early = jobs.find((each) => each.code === makeCode('J', 106));
  const hits = (await owner.get<z.infer<typeof SearchAnswer>>('/api/search?q=48-2230')).body.hits;
  const part = hits.find((hit) => hit.kind === 'part');
  const { lots } = (await owner.get<PartPage>(`/api/parts/${part?.id}`)).body;
  const lot = lots.find((each) => each.storageLife.state === 'past');
  type Place = { id: string; code: string; name: string; parentId: string };
  const [place] = (await owner.get<{ places: Place[] }>('/api/places?q=R3%20B12')).body.places;
  const { units } = (await owner.get<z.infer<typeof UnidentifiedList>>('/api/units/unidentified')).body;
  const unknown = units.find(({ words }) => words.includes('six wheel studs'));
  const [box] = (await owner.get<z.infer<typeof SearchAnswer>>('/api/search?q=Biscuit%20tin')).body.hits;
  const card = job && (await owner.get<JobCard>(`/api/jobs/${job.id}`)).body;
  const [line, tray] = [card?.coverage.lines.find((each) => each.lineNo === 15), card?.tray];
  if (!job || !early || !line || !tray || !part || !lot || !place || !unknown || !box || !loads[0])
    throw new Error('The example workshop lacks what the screens show.');
  const stripped = await openedUnit(owner);
  await sendPicture(scene.server.url, owner, job.unit.id, await phonePhotograph(800, 600), { words: 'the nose, as it came' });
  const [core, judged] = [await unitMarked(owner, 'S1118820'), await unitMarked(owner, 'WD74066')];
  const [blank = ''] = await new LabelDesk(owner).blanks('lot', 1);
  const desk = new PassDesk(owner);
  const emptied = await desk.bought('box', '10');
  const keys = await desk.named(emptied.id, 'taper keys', '12');
  await desk.pass(emptied.id, 'equally');
  const sealant = await sealantIn(owner, 'Flange sealant', { keepsDays: 5 });
  const container = (await opened(owner, sealant.lot.id, '2020-02-01')).thing;
  const sale = { id: newId(), lines: [{ thingId: keys.id, quantity: '2', price: '3.50' }], buyer: 'Mr Penhale', paid: 'cash' };
  const sold = await owner.post<{ detail?: string }>('/api/sales', sale);
  if (sold.status !== 200) throw new Error(`The keys were not sold: ${sold.body.detail}`);
  return {
    shelf: await begunShelf(scene),
    sale,
    ...(await standingApart(owner, place.id)),
    sealant,
    container,
    job,
    tray,
    early,
    part,
    lot,
    place,
    unknown,
    box,
    line,
    stripped,
    core,
    judged,
    emptied,
    load: loads[0],
    blank,
    counted: await countedBin(owner, place),
  };
}

export type Examples = Awaited<ReturnType<typeof examplesFor>>;
