import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { StripDownOfUnit } from '../../libs/contracts/src/cores.js';
import type { JobCard } from '../../libs/contracts/src/jobs.js';
import type { Thing } from '../../libs/contracts/src/stores.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from './bare-server.js';
import { Stock } from './stock.js';
import { type Expected, StripBench, unitTypeOf } from './strip-bench.js';

/** A workshop in which units are taken apart: its owner, a bench hand, a bin for what is kept. */
export class StripScene {
  private constructor(
    readonly server: BareServer,
    readonly owner: Visitor,
    readonly tom: Visitor,
    readonly stock: Stock,
    readonly bin: string,
  ) {}

  static async open(name: string): Promise<StripScene> {
    const server = await startBareServer(name);
    const owner = await server.setUp();
    const tom = await addPerson(server, owner, 'bench', 'tomh', 'Tom Hasleby');
    const stock = await Stock.open(server.testDatabase.ownerUrl);
    return new StripScene(server, owner, tom, stock, (await stock.place()).id);
  }

  /** The books must be in order at the end. */
  async close(): Promise<void> {
    expect(await verifyBooks(this.server.database)).toEqual([]);
    await this.stock.close();
    await this.server.stop();
  }

  async thing(id: string): Promise<Thing> {
    return (await this.owner.get<Thing>(`/api/things/${id}`)).body;
  }

  async ofUnit(id: string): Promise<StripDownOfUnit> {
    return (await this.owner.get<StripDownOfUnit>(`/api/units/${id}/strip-down`)).body;
  }

  async opened(components: readonly Expected[], facts: { ownerId?: string } = {}) {
    const unit = await this.stock.unit({ unitTypeId: await unitTypeOf(this.stock, components), ...facts });
    return { unit, bench: await StripBench.open(this.owner, unit) };
  }

  /** A job on a unit of such a type that asks for one of a part. */
  async openedForJob(partId: string, components: readonly Expected[], reusable = true) {
    const job = await this.stock.job([{ partId, reusable, critical: true }]);
    const unitTypeId = await unitTypeOf(this.stock, components);
    await this.stock.query('UPDATE units SET unit_type_id = $2 WHERE thing_id = $1', [job.unit.id, unitTypeId]);
    return { job, unit: job.unit, bench: await StripBench.open(this.owner, job.unit) };
  }

  async lineOf(jobId: string) {
    return (await this.owner.get<JobCard>(`/api/jobs/${jobId}`)).body.coverage.lines[0]!;
  }
}
