import { WorkshopClock } from '../../apps/api/src/people/workshop.js';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { CoverWatch } from '../../apps/api/src/warnings/cover-watch.js';
import type { Warning, WarningKind, WarningList } from '../../libs/contracts/src/warnings.js';
import { type BareServer, startBareServer, type Visitor } from './bare-server.js';
import { Stock } from './stock.js';

/** All jobs are gone through in turn, a few at a time. */
const patienceMs = 25_000;
const lookAgainMs = 30;
/** Longer than it takes to gather, look and tell, on a machine that is busy. */
const quietMs = 1_500;

/** What the tests of warnings ask of a server of their own. */
export class WarningDesk {
  private constructor(
    readonly server: BareServer,
    readonly owner: Visitor,
    readonly stock: Stock,
    readonly today: string,
  ) {}

  static async open(name: string): Promise<WarningDesk> {
    const server = await startBareServer(name);
    const owner = await server.setUp();
    return WarningDesk.of(server, owner, await Stock.open(server.testDatabase.ownerUrl));
  }

  /** On a server that others have started. */
  static async of(server: BareServer, owner: Visitor, stock: Stock): Promise<WarningDesk> {
    const { today } = (await owner.get<{ today: string }>('/api/workshop')).body;
    return new WarningDesk(server, owner, stock, today);
  }

  async close(): Promise<void> {
    await this.stock.close();
    await this.server.stop();
  }

  readonly list = async (): Promise<WarningList> => (await this.owner.get<WarningList>('/api/warnings')).body;

  readonly openOn = async (jobId: string): Promise<Warning[]> =>
    (await this.list()).open.filter(({ job, otherJob }) => job.id === jobId || otherJob?.id === jobId);

  readonly settledOn = async (jobId: string): Promise<Warning[]> =>
    (await this.list()).settled.filter(({ job }) => job.id === jobId);

  /** Waits until the kinds of what is open on a job are these, and gives the warnings. */
  async until(jobId: string, kinds: readonly WarningKind[]): Promise<Warning[]> {
    const wanted = kinds.toSorted().join();
    const end = performance.now() + patienceMs;
    for (;;) {
      const open = await this.openOn(jobId);
      const there = open
        .map(({ kind }) => kind)
        .toSorted()
        .join();
      if (there === wanted) return open;
      if (performance.now() > end) throw new Error(`Open are "${there}", not "${wanted}".`);
      await pause(lookAgainMs);
    }
  }

  /** What is open on a job when all that was committed has surely been looked at. */
  async afterQuiet(jobId: string): Promise<Warning[]> {
    await pause(quietMs);
    return this.openOn(jobId);
  }

  /** Lets the server look at a job that the statements of a test have made, by an edit that changes nothing. */
  async firstLook(jobId: string): Promise<void> {
    const { body } = await this.owner.get<{ version: number; title: string; wanted: string; priority: number; state: string }>(
      `/api/jobs/${jobId}`,
    );
    const { title, wanted, priority, state } = body;
    const answer = await this.owner.patch(
      `/api/jobs/${jobId}`,
      { title, wanted, buildStandard: 'serviceable', priority, state },
      { ifMatch: body.version },
    );
    if (answer.status !== 200) throw new Error(`The job could not be touched: ${JSON.stringify(answer.body)}`);
    await this.looked(jobId);
  }

  /** Waits until every line of a job was looked at. */
  async looked(jobId: string): Promise<void> {
    const end = performance.now() + patienceMs;
    for (;;) {
      const [row] = await this.stock.query<{ left: number }>(
        `SELECT count(*)::int AS left FROM job_lines WHERE job_id = $1 AND NOT EXISTS (SELECT FROM line_cover WHERE line_id = job_lines.id)`,
        [jobId],
      );
      if (row?.left === 0) return;
      if (performance.now() > end) throw new Error('The job was not looked at.');
      await pause(lookAgainMs);
    }
  }

  readonly hold = (thingId: string, reason: string) => this.owner.post(`/api/things/${thingId}/hold`, { reason });
  readonly lift = (thingId: string, reason = 'nothing was found') =>
    this.owner.post(`/api/things/${thingId}/hold-lift`, { reason });
  readonly settle = (id: string, note: string, key?: string) =>
    this.owner.post<Warning>(`/api/warnings/${id}/settle`, { note }, key === undefined ? {} : { key });

  async order(
    partId: string,
    facts: { quantity?: string; dueOn: string | null; confirmed?: boolean; forJobId?: string },
  ): Promise<Receipt> {
    const id = newId();
    const answer = await this.owner.post<Receipt>('/api/receipts', {
      id,
      orderReference: `order ${id.slice(-6)}`,
      supplierName: 'Veldrow Bearings',
      partId,
      quantity: '1',
      confirmed: true,
      forJobId: null,
      ...facts,
    });
    if (answer.status !== 200) throw new Error(`The order was refused: ${JSON.stringify(answer.body)}`);
    return answer.body;
  }

  async changeOrder(receipt: Receipt, change: { dueOn?: string | null; calledOff?: boolean }): Promise<Receipt> {
    const { id, dueOn, confirmed, note, calledOff, version } = receipt;
    const answer = await this.owner.patch<Receipt>(
      `/api/receipts/${id}`,
      { dueOn, confirmed, note, calledOff, forJobId: null, ...change },
      { ifMatch: version },
    );
    if (answer.status !== 200) throw new Error(`The order stayed as it was: ${JSON.stringify(answer.body)}`);
    return answer.body;
  }

  /** Puts the workshop's clock to noon of a day, and lets the server see which day it is. */
  async itIs(day: string): Promise<void> {
    Object.assign(this.server.app.get(WorkshopClock), { now: () => new Date(`${day}T12:00:00Z`) });
    await this.server.app.get(CoverWatch, { strict: false }).lookAtTheDay();
  }
}

export interface Receipt {
  id: string;
  dueOn: string | null;
  confirmed: boolean;
  calledOff: boolean;
  note: string;
  version: number;
}

function pause(milliseconds: number): Promise<void> {
  return new Promise((settle) => setTimeout(settle, milliseconds));
}
