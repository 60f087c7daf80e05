import type { Holds, StandsApart } from '../../libs/contracts/src/goods-apart.js';
import type { Thing } from '../../libs/contracts/src/stores.js';
import type { Visitor } from './bare-server.js';
import type { Stock } from './stock.js';

export interface Refused {
  code: string;
  detail: string;
  values?: { fields?: { path: string }[] };
}
type Said<Body> = { status: number; body: Body & Refused };

/** What is set apart from stock, and what is said of it afterwards. */
export class ApartDesk {
  constructor(
    private readonly owner: Visitor,
    private readonly stock: Stock,
  ) {}

  act<Body = Thing>(
    who: Visitor,
    id: string,
    what: string,
    body: object,
    options: { key?: string; ifMatch?: number } = {},
  ): Promise<Said<Body>> {
    return who.post<Body & Refused>(`/api/things/${id}/${what}`, body, options);
  }

  condemn(id: string, who: Visitor = this.owner): Promise<Said<Thing>> {
    return this.act(who, id, 'condemnation', { reason: 'cracked through', noPicture: 'the camera is away' });
  }

  async taken<Body>(answer: Promise<Said<Body>>): Promise<Body> {
    const { status, body } = await answer;
    expect({ status, detail: body.detail }).toEqual({ status: 200, detail: undefined });
    return body;
  }

  async apart(id: string): Promise<StandsApart> {
    return (await this.owner.get<StandsApart>(`/api/things/${id}/stands-apart`)).body;
  }

  async holds(): Promise<Holds> {
    return (await this.owner.get<Holds>('/api/holds')).body;
  }

  async page(id: string): Promise<Thing> {
    return (await this.owner.get<Thing>(`/api/things/${id}`)).body;
  }

  /** What a search says is free of the part with this number. */
  async freeOf(number: string): Promise<string | undefined> {
    const { hits } = (await this.owner.get<{ hits: { kind: string; quantity: string }[] }>(`/api/search?q=${number}`)).body;
    return hits.find(({ kind }) => kind === 'part')?.quantity;
  }

  /** Of a thing, the newest first. */
  movements(id: string) {
    return this.stock.query<{ to: string; quantity: string }>(
      'SELECT to_holder_id AS to, trim_scale(quantity)::text AS quantity FROM movements WHERE thing_id = $1 ORDER BY sequence DESC',
      [id],
    );
  }
}
