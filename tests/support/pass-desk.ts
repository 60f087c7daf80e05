import { newId } from '../../apps/api/src/platform/new-id.js';
import type { PassedOn, ThingCost } from '../../libs/contracts/src/costs.js';
import type { Answer, Visitor } from './bare-server.js';
import { keyRow, openLoad, unitRow, unsortedRow } from './load-stock.js';
import type { Problem } from './strip-bench.js';

export type Passed = PassedOn & Problem;

/** What the tests of cost passed on ask and key, as somebody who keeps the books. */
export class PassDesk {
  constructor(readonly owner: Visitor) {}

  async of(wholeId: string): Promise<PassedOn> {
    return (await this.owner.get<PassedOn>(`/api/things/${wholeId}/passed-on`)).body;
  }

  async costOf(thingId: string): Promise<ThingCost> {
    return (await this.owner.get<ThingCost>(`/api/things/${thingId}/cost`)).body;
  }

  pass(wholeId: string, way: string, more: Record<string, unknown> = {}): Promise<Answer<Passed>> {
    return this.owner.post<Passed>(`/api/things/${wholeId}/passed-on`, { way, ...more });
  }

  async worth(wholeId: string, partId: string, keyed: { worth?: string; weightKg?: string }): Promise<Answer<Passed>> {
    const row = (await this.of(wholeId)).rows.find((each) => each.id === partId);
    return this.owner.put<Passed>(`/api/things/${wholeId}/passed-on/${partId}/worth`, keyed, { ifMatch: row!.version });
  }

  /** A unit or a box that came alone with a load of this price. */
  async bought(
    kind: 'unit' | 'box',
    price: string,
    fields: Record<string, unknown> = {},
  ): Promise<{ id: string; code: string; loadId: string }> {
    const load = await openLoad(this.owner);
    const row = await done(keyRow(this.owner, load.id, kind === 'unit' ? unitRow(fields) : unsortedRow(fields)));
    const paid = { price, haulage: '0', fees: '0', currency: 'GBP' };
    await done(this.owner.patch(`/api/loads/${load.id}/cost`, paid, { ifMatch: 1 }));
    await done(this.owner.post(`/api/loads/${load.id}/cost-shares`, { way: 'equally' }));
    return { id: row.id, code: row.code, loadId: load.id };
  }

  /** Names so many of something out of a box. */
  async named(boxId: string, words: string, quantity = '1'): Promise<{ id: string; takingId: string }> {
    const body = { kind: 'lot', id: newId(), partId: null, words, quantity, source: 'bought used' };
    const { takingId } = await done(this.owner.post<{ takingId: string }>(`/api/boxes/${boxId}/takings`, body));
    return { id: body.id, takingId };
  }
}

/** Each row's share by its name, as it was written. */
export const sharesOf = ({ rows }: PassedOn): Record<string, string | null> =>
  Object.fromEntries(rows.map(({ name, share }) => [name, share]));

async function done<Body>(sent: Promise<Answer<Body>>): Promise<Body> {
  const { status, body } = await sent;
  if (status !== 200) throw new Error(`Refused while it was made ready: ${status} ${JSON.stringify(body)}`);
  return body;
}
