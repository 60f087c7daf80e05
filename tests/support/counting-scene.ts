import { newId } from '../../apps/api/src/platform/new-id.js';
import { countDifferenceId } from '../../apps/api/src/stores/ledger.js';
import type { Thing } from '../../libs/contracts/src/stores.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from './bare-server.js';
import { CountingDesk } from './counting-desk.js';
import { type Made, Stock } from './stock.js';

/** A workshop of three who count, with one part of which lots are laid into bins. */
export class CountingScene {
  private constructor(
    readonly server: BareServer,
    readonly owner: Visitor,
    /** Tom Hasleby, at the bench */
    readonly bench: Visitor,
    /** Ida Crake, of the stores */
    readonly ida: Visitor,
    readonly stock: Stock,
    readonly desk: CountingDesk,
    readonly partId: string,
  ) {}

  static async open(name: string): Promise<CountingScene> {
    const server = await startBareServer(name);
    const owner = await server.setUp();
    const bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
    const ida = await addPerson(server, owner, 'stores', 'ida', 'Ida Crake');
    const stock = await Stock.open(server.testDatabase.ownerUrl);
    const partId = await stock.part({ name: 'Thrust washer' });
    return new CountingScene(server, owner, bench, ida, stock, new CountingDesk(owner), partId);
  }

  async close(): Promise<void> {
    await this.stock.close();
    await this.server.stop();
  }

  readonly lotIn = (place: Made, quantity: string, facts: { ownerId?: string; partId?: string } = {}): Promise<Made> =>
    this.stock.lot(facts.partId ?? this.partId, { quantity, placeId: place.id, ownerId: facts.ownerId ?? null });

  readonly thingOf = async (thing: Made): Promise<Thing> => (await this.owner.get<Thing>(`/api/things/${thing.id}`)).body;

  readonly heldAt = async (thing: Made, holder: { id: string }): Promise<string> =>
    (await this.thingOf(thing)).holdings.find(({ holderId }) => holderId === holder.id)?.quantity ?? '0';

  /** A lot that has lain there for a day. */
  readonly longThere = async (place: Made, quantity: string): Promise<Made> => {
    const [lot, key] = [await this.stock.lot(this.partId, { quantity: '0' }), newId()];
    await this.stock.query("INSERT INTO commands (key, route, request_hash) VALUES ($1, 'test', '')", [key]);
    await this.stock.query("UPDATE things SET created_at = created_at - interval '1 day' WHERE id = $1", [lot.id]);
    await this.stock.query(
      `INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at)
       VALUES ($1, $2, $3, $4, $5, $6, 'opening stock', now() - interval '1 day')`,
      [newId(), key, lot.id, quantity, countDifferenceId, place.id],
    );
    return lot;
  };
}

export const ago = (minutes: number): string => new Date(Date.now() - minutes * 60_000).toISOString();
