import { newId } from '../../apps/api/src/platform/new-id.js';
import type { ScanRefusal } from '../../libs/contracts/src/bench.js';
import type { Coverage } from '../../libs/contracts/src/coverage.js';
import type { JobCard } from '../../libs/contracts/src/jobs.js';
import type { RelationShown } from '../../libs/contracts/src/relations.js';
import type { SubstituteAccepted } from '../../libs/contracts/src/substitutes.js';
import { type BareServer, startBareServer, type Visitor } from './bare-server.js';
import { Stock } from './stock.js';

export const evidence = { kind: 'catalogue', words: 'third edition, page 41' };

/** What the tests of substitutes ask of a server of their own: relations, jobs whose line lacks its part, acceptances and scans. */
export class SubstituteDesk {
  private constructor(
    private readonly server: BareServer,
    readonly owner: Visitor,
    readonly stock: Stock,
  ) {}

  static async open(name: string): Promise<SubstituteDesk> {
    const server = await startBareServer(name);
    return new SubstituteDesk(server, await server.setUp(), await Stock.open(server.testDatabase.ownerUrl));
  }

  async close(): Promise<void> {
    await this.stock.close();
    await this.server.stop();
  }

  readonly relate = async (from: string, kind: string, to: string, conditions = ''): Promise<RelationShown> => {
    const { status, body } = await this.owner.post<{ relations: RelationShown[] }>(`/api/parts/${from}/relations`, {
      kind,
      toPartIds: [to],
      evidence,
      conditions,
    });
    const relation = body.relations?.[0];
    if (relation === undefined) throw new Error(`The relation was refused with ${status}: ${JSON.stringify(body)}`);
    return relation;
  };

  readonly coverageOf = async (jobId: string) => (await this.owner.get<Coverage>(`/api/jobs/${jobId}/coverage`)).body;
  readonly cardOf = async (jobId: string) => (await this.owner.get<JobCard>(`/api/jobs/${jobId}`)).body;

  readonly accept = (jobId: string, lineId: string, partId: string, more: Record<string, unknown> = {}) =>
    this.owner.post<SubstituteAccepted & { code: string; detail: string }>(`/api/jobs/${jobId}/lines/${lineId}/substitutes`, {
      id: newId(),
      partId,
      marking: 'HALLO.. 25 62',
      bore: '25',
      outside: '62',
      width: '17',
      evidence: { kind: 'measured', words: 'all three with the micrometer' },
      position: 'rear cover, off side',
      forEveryJob: false,
      ...more,
    });

  readonly scan = (act: 'fits' | 'picks', code: string, jobId: string, more: object = {}) =>
    this.owner.post<{ code: string; detail: string; values: ScanRefusal; line: { lineNo: number } | null }>(`/api/${act}`, {
      code,
      jobId,
      ...more,
    });

  /** A job whose one line asks for a part of which nothing is held, and another part of which two lie in stores. */
  readonly lineAndOther = async (facts: Parameters<Stock['job']>[1] = {}, lot: Parameters<Stock['lot']>[1] = {}) => {
    const [wanted, other] = [
      await this.stock.part({ name: 'Hub bearing' }),
      await this.stock.part({ name: 'Hub bearing of another box' }),
    ];
    const held = await this.stock.lot(other, { quantity: '2', ...lot });
    const job = await this.stock.job([{ partId: wanted, quantity: '2', critical: true }], facts);
    return { wanted, other, held, job, lineId: job.lineIds[0]! };
  };
}
