import type * as z from 'zod';
import { newId } from '../../apps/api/src/platform/new-id.js';
import type { ContentsMoved, PlaceCarried, PlaceNode, PlacePage } from '../../libs/contracts/src/places.js';
import type { PlaceBrief, PutAwayDone } from '../../libs/contracts/src/stores.js';
import type { Visitor } from './bare-server.js';
import type { Made, Stock } from './stock.js';

/** An answer as wanted, or the refusal in its place. */
type Told<Body> = Body & { code: string; detail: string; title: string };

let serial = 0;

/** Places that are made, changed and closed by whoever keeps the books, and carried and filled from the bench. */
export class PlacesDesk {
  constructor(
    private readonly owner: Visitor,
    private readonly bench: Visitor,
    private readonly stock: Stock,
  ) {}

  async place(kind: string, parentId: string | null = null, name?: string): Promise<PlaceBrief> {
    serial += 1;
    const keyed = { id: newId(), parentId, name: name ?? `${kind} ${serial}`, kind };
    const made = await this.owner.post<PlaceBrief>('/api/places', keyed);
    expect(made.status).toBe(200);
    return made.body;
  }

  async page(id: string): Promise<PlacePage> {
    return (await this.owner.get<PlacePage>(`/api/places/${id}`)).body;
  }

  async level(within?: string): Promise<PlaceNode[]> {
    const asked = within === undefined ? '' : `?within=${within}`;
    return (await this.owner.get<{ places: PlaceNode[] }>(`/api/place-levels${asked}`)).body.places;
  }

  edit(id: string, keyed: object, ifMatch?: number) {
    return this.owner.patch<Told<PlacePage>>(`/api/places/${id}`, keyed, ifMatch === undefined ? {} : { ifMatch });
  }

  carry(id: string, parentId: string | null, options: { ifMatch?: number; key?: string } = {}) {
    return this.bench.post<Told<PlaceCarried>>(`/api/places/${id}/carrying`, { parentId }, options);
  }

  close(id: string, ifMatch = 1) {
    return this.owner.post<Told<PlacePage>>(`/api/places/${id}/closing`, {}, { ifMatch });
  }

  open(id: string, ifMatch: number) {
    return this.owner.post<Told<PlacePage>>(`/api/places/${id}/opening`, {}, { ifMatch });
  }

  putAway(code: string, placeId: string, quantity?: string) {
    const keyed = { code, placeId, ...(quantity === undefined ? {} : { quantity }) };
    return this.bench.post<Told<z.infer<typeof PutAwayDone>>>('/api/put-aways', keyed);
  }

  moveAll(fromPlaceId: string, toPlaceId: string, key?: string) {
    const options = key === undefined ? {} : { key };
    return this.bench.post<Told<ContentsMoved>>('/api/contents-moves', { fromPlaceId, toPlaceId }, options);
  }

  takeBack(actId: string) {
    return this.bench.post<{ words: string; quantity: string; code: string; detail: string }>(`/api/acts/${actId}/take-back`, {});
  }

  async lyingIn(id: string): Promise<string[][]> {
    return (await this.page(id)).contents.map((thing) => [thing.id, thing.quantity]).sort();
  }

  movementsOf(thingId: string) {
    return this.stock.query<{ reason: string; to: string }>(
      'SELECT reason, to_holder_id AS "to" FROM movements WHERE thing_id = $1 ORDER BY sequence',
      [thingId],
    );
  }

  /** A bin with lots in it, each of so many. */
  async binOf(...quantities: string[]): Promise<{ bin: PlaceBrief; lots: Made[] }> {
    const bin = await this.place('bin');
    const lots: Made[] = [];
    for (const quantity of quantities) lots.push(await this.stock.lot(await this.stock.part(), { quantity, placeId: bin.id }));
    return { bin, lots };
  }
}
