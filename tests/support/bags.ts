import type * as z from 'zod';
import type { LotThing } from '../../libs/contracts/src/stores.js';
import type { Visitor } from './bare-server.js';
import type { LotFacts, Made, Stock } from './stock.js';

export type Lot = z.infer<typeof LotThing>;

/** Bags of one part, and what the books say of them. */
export class Bags {
  constructor(
    private readonly person: Visitor,
    private readonly stock: Stock,
    private readonly partId: string,
  ) {}

  bag(quantity = '10', facts: LotFacts = {}): Promise<Made> {
    return this.stock.lot(this.partId, { quantity, ...facts });
  }

  async page(id: string): Promise<Lot> {
    return (await this.person.get<Lot>(`/api/things/${id}`)).body;
  }

  async held(...ids: string[]): Promise<string[]> {
    return Promise.all(ids.map(async (id) => (await this.page(id)).held));
  }

  /** So many of a lot, for a job of their own. */
  async reserve(lotId: string, quantity: string) {
    const job = await this.stock.job([{ partId: this.partId, quantity }]);
    const lines = [{ lineId: job.lineIds[0], thingId: lotId, quantity }];
    expect((await this.person.post(`/api/jobs/${job.id}/reservations`, { until: null, lines })).status).toBe(200);
    return job;
  }
}
