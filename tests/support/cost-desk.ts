import type { LoadCost, ThingCost } from '../../libs/contracts/src/costs.js';
import type { Answer, Visitor } from './bare-server.js';
import { keyRow, lotRow, openLoad, type RowShown, unitRow, unsortedRow } from './load-stock.js';

export type Shared = LoadCost & { detail: string; code: string };

/** What the tests of costs ask and key, as somebody who keeps the books. */
export class CostDesk {
  constructor(
    readonly owner: Visitor,
    private readonly typeId: string,
    private readonly washerId: string,
  ) {}

  async costOf(loadId: string): Promise<LoadCost> {
    return (await this.owner.get<LoadCost>(`/api/loads/${loadId}/cost`)).body;
  }

  async thingCost(thingId: string): Promise<ThingCost> {
    return (await this.owner.get<ThingCost>(`/api/things/${thingId}/cost`)).body;
  }

  async pay(loadId: string, fields: Record<string, unknown> = {}): Promise<Answer<LoadCost>> {
    const { version } = await this.costOf(loadId);
    return this.owner.patch<LoadCost>(`/api/loads/${loadId}/cost`, paid(fields), { ifMatch: version });
  }

  async worth(loadId: string, rowId: string, keyed: { worth?: string; weightKg?: string }): Promise<Answer<LoadCost>> {
    const row = (await this.costOf(loadId)).rows.find((each) => each.id === rowId);
    return this.owner.put<LoadCost>(`/api/loads/${loadId}/rows/${rowId}/worth`, keyed, { ifMatch: row!.version });
  }

  share(loadId: string, way: string, more: Record<string, unknown> = {}): Promise<Answer<Shared>> {
    return this.owner.post<Shared>(`/api/loads/${loadId}/cost-shares`, { way, ...more });
  }

  /** A load of three rows: a unit, seven washers and a tin. */
  async threeRows(fields: Record<string, unknown> = {}): Promise<{ id: string; rows: RowShown[] }> {
    const load = await openLoad(this.owner);
    const keyed = [
      await keyRow(this.owner, load.id, unitRow({ position: 1, unitTypeId: this.typeId, words: '' })),
      await keyRow(this.owner, load.id, lotRow(this.washerId, { position: 2, quantity: '7' })),
      await keyRow(this.owner, load.id, unsortedRow({ position: 3 })),
    ];
    await done(this.pay(load.id, fields));
    return { id: load.id, rows: keyed.map((answer) => answer.body) };
  }

  /** The same, worth 600, 200 and 50. */
  async threeWorths(fields: Record<string, unknown> = {}): Promise<{ id: string; rows: RowShown[] }> {
    const load = await this.threeRows(fields);
    for (const [index, value] of ['600', '200', '50'].entries())
      await done(this.worth(load.id, load.rows[index]!.id, { worth: value }));
    return load;
  }
}

export const paid = (fields: Record<string, unknown> = {}) => ({
  price: '1000',
  haulage: '0',
  fees: '0',
  currency: 'GBP',
  ...fields,
});

export const shares = (cost: LoadCost): (string | null)[] => cost.rows.map((row) => row.share);

async function done(sent: Promise<Answer<unknown>>): Promise<void> {
  const { status, body } = await sent;
  if (status !== 200) throw new Error(`Refused while it was made ready: ${status} ${JSON.stringify(body)}`);
}
