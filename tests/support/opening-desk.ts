import type { z } from 'zod';
import { newId } from '../../apps/api/src/platform/new-id.js';
import type { CodeBlock } from '../../libs/contracts/src/labels.js';
import type {
  AtDesk,
  DeskRow,
  OpeningProgress,
  OpeningRow,
  OpeningShelf,
  OpeningSplit,
  OpeningWorth,
} from '../../libs/contracts/src/opening-stock.js';
import type { Answer, SendOptions, Visitor } from './bare-server.js';
import { accepted, fresh, type MakeReady, type WriteScene } from './write-making.js';

/** An answer as wanted, or the refusal in its place. */
export type Told<Body> = Body & { code: string; detail: string; title: string };
type Fields = Record<string, unknown>;

/** What the tests of opening stock ask of a server, in the name of one person. */
export class OpeningDesk {
  constructor(private readonly person: Visitor) {}

  readonly as = (person: Visitor): OpeningDesk => new OpeningDesk(person);

  /** A place of its own, opened by being added. */
  async shelf(name = fresh('Bin'), parentId: string | null = null, kind = 'bin'): Promise<string> {
    const id = newId();
    await accepted(this.person.post('/api/opening/places', { id, parentId, name, kind }));
    return id;
  }

  /** Keys a row: a lot of one thing unless the fields say otherwise. */
  readonly put = (placeId: string, fields: Fields, id = newId(), options: SendOptions = {}): Promise<Answer<Told<OpeningRow>>> =>
    this.person.put<Told<OpeningRow>>(`/api/opening/rows/${id}`, { kind: 'lot', placeId, ...fields }, options);

  keyed(placeId: string, fields: Fields, id = newId()): Promise<OpeningRow> {
    return accepted(this.put(placeId, fields, id));
  }

  readonly correct = ({ id, place, version }: OpeningRow, fields: Fields) => this.put(place.id, fields, id, { ifMatch: version });

  readonly strike = ({ id, version }: OpeningRow, reason = 'keyed twice') =>
    this.person.post<Told<OpeningRow>>(`/api/opening/rows/${id}/strike`, { reason }, { ifMatch: version });

  readonly page = async (placeId: string): Promise<OpeningShelf> =>
    (await this.person.get<OpeningShelf>(`/api/opening/places/${placeId}`)).body;

  readonly done = (placeId: string, body: Fields = {}) =>
    this.person.post<Told<OpeningShelf>>(`/api/opening/places/${placeId}/done`, body);

  readonly open = (placeId: string) => this.person.post<Told<OpeningShelf>>(`/api/opening/places/${placeId}/open`, {});

  readonly progress = async (): Promise<OpeningProgress> => (await this.person.get<OpeningProgress>('/api/opening')).body;
  readonly worth = async (): Promise<OpeningWorth> => (await this.person.get<OpeningWorth>('/api/opening/worth')).body;

  readonly next = (asked: Fields = {}) => this.person.post<Told<AtDesk>>('/api/opening/desk', asked);

  readonly name = ({ id, version }: Pick<OpeningRow, 'id' | 'version'>, fields: Fields, options: SendOptions = {}) =>
    this.person.post<Told<z.infer<typeof DeskRow>>>(
      `/api/opening/rows/${id}/name`,
      { kind: 'lot', partId: null, ...fields },
      { ifMatch: version, ...options },
    );

  readonly split = ({ id, version }: OpeningRow, fields: Fields) =>
    this.person.post<Told<z.infer<typeof OpeningSplit>>>(
      `/api/opening/rows/${id}/split`,
      { id: newId(), ...fields },
      { ifMatch: version },
    );

  readonly ask = ({ id, version }: OpeningRow) =>
    this.person.post<Told<OpeningRow>>(`/api/opening/rows/${id}/ask`, {}, { ifMatch: version });

  readonly scrap = ({ id, version }: OpeningRow, reason = 'rusted through') =>
    this.person.post<Told<OpeningRow>>(`/api/opening/rows/${id}/scrap`, { reason }, { ifMatch: version });

  readonly bringBack = ({ id, version }: Pick<OpeningRow, 'id' | 'version'>) =>
    this.person.post<Told<OpeningRow>>(`/api/opening/rows/${id}/bring-back`, {}, { ifMatch: version });

  async blanks(kind: CodeBlock['kind'], count: number): Promise<string[]> {
    return (await accepted(this.person.post<CodeBlock>('/api/code-blocks', { id: newId(), kind, count }))).free;
  }
}

async function row({ owner }: WriteScene, count = '4'): Promise<OpeningRow> {
  const desk = new OpeningDesk(owner);
  return desk.keyed(await desk.shelf(), { words: 'cover plates', count });
}
const path = ({ id }: OpeningRow, act: string) => `/api/opening/rows/${id}/${act}`;

/** Each route of opening stock that writes, with a change that it accepts. */
export const openingWrites: Record<string, MakeReady> = {
  'POST /api/opening/places': async () => ({
    path: '/api/opening/places',
    body: { id: newId(), parentId: null, name: fresh('Rack'), kind: 'rack' },
  }),
  'POST /api/opening/places/:id/done': async ({ stock }) => ({
    path: `/api/opening/places/${(await stock.place()).id}/done`,
    body: { inside: true, why: 'counted last winter' },
  }),
  'POST /api/opening/places/:id/open': async ({ stock }) => ({
    path: `/api/opening/places/${(await stock.place()).id}/open`,
    body: {},
  }),
  'PUT /api/opening/rows/:id': async ({ stock }) => ({
    path: `/api/opening/rows/${newId()}`,
    body: { kind: 'lot', placeId: (await stock.place()).id, words: 'thrust plates', count: '3' },
  }),
  'POST /api/opening/rows/:id/strike': async (scene) => ({
    path: path(await row(scene), 'strike'),
    body: { reason: 'keyed twice' },
    ifMatch: 1,
  }),
  'POST /api/opening/desk': async (scene) => ({ path: '/api/opening/desk', body: { rowId: (await row(scene)).id } }),
  'POST /api/opening/rows/:id/name': async (scene) => ({
    path: path(await row(scene), 'name'),
    body: { kind: 'lot', partId: await scene.stock.part(), cost: { standing: 'figure', amount: '12.50' } },
    ifMatch: 1,
  }),
  'POST /api/opening/rows/:id/split': async (scene) => ({
    path: path(await row(scene), 'split'),
    body: { id: newId(), count: '1', words: 'a spacer' },
    ifMatch: 1,
  }),
  'POST /api/opening/rows/:id/ask': async (scene) => ({ path: path(await row(scene), 'ask'), body: {}, ifMatch: 1 }),
  'POST /api/opening/rows/:id/bring-back': async (scene) => {
    const scrapped = await row(scene);
    await accepted(new OpeningDesk(scene.owner).scrap(scrapped));
    return { path: path(scrapped, 'bring-back'), body: {}, ifMatch: 2 };
  },
  'POST /api/opening/rows/:id/scrap': async (scene) => ({
    path: path(await row(scene), 'scrap'),
    body: { reason: 'rusted through' },
    ifMatch: 1,
  }),
};
