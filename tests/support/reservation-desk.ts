import { newId } from '../../apps/api/src/platform/new-id.js';
import { formatCode, type LabelCode } from '../../libs/codes/src/label-code.js';
import type { JobCard } from '../../libs/contracts/src/jobs.js';
import type { Reservation, ReservationProblem, Reserved } from '../../libs/contracts/src/reservations.js';
import type { Visitor } from './bare-server.js';
import type { Made, Stock } from './stock.js';

export interface Problem {
  code: string;
  title: string;
  detail: string;
  values: { problems: ReservationProblem[]; fields?: { path: string }[] };
}
export type Job = Awaited<ReturnType<Stock['job']>>;
export type Line = { lineId: string | null; quantity: string; thingId?: string; receiptId?: string };

export const said = ({ code }: Made): string => formatCode(code as LabelCode);
export const of = (job: Job, thing: Made, quantity = '1', line = 0): Line => ({
  lineId: job.lineIds[line]!,
  thingId: thing.id,
  quantity,
});
export const ofOrder = (job: Job, receiptId: string, quantity = '1'): Line => ({ lineId: job.lineIds[0]!, receiptId, quantity });

let orders = 0;

/** Reserves for jobs, orders what is reserved of, and says what came of it. */
export class ReservationDesk {
  constructor(
    private readonly owner: Visitor,
    private readonly stock: Stock,
  ) {}

  titled(job: Made, title: string) {
    return this.stock.query('UPDATE jobs SET title = $2 WHERE id = $1', [job.id, title]);
  }

  send(job: Made, lines: Line[], until: string | null = null) {
    return this.owner.post<Reserved & Problem>(`/api/jobs/${job.id}/reservations`, { until, lines });
  }

  async reserve(job: Made, lines: Line[], until: string | null = null): Promise<Reserved> {
    const answer = await this.send(job, lines, until);
    expect(answer).toMatchObject({ status: 200 });
    return answer.body;
  }

  /** Is refused with this code, and no claim is another than before. */
  async refused(job: Made, lines: Line[], code: string): Promise<Problem> {
    const before = await this.stock.query('SELECT id, quantity FROM claims ORDER BY id');
    const answer = await this.send(job, lines);
    expect(answer).toMatchObject({ status: 409, body: { code } });
    expect(await this.stock.query('SELECT id, quantity FROM claims ORDER BY id')).toEqual(before);
    return answer.body;
  }

  async listed(job: Made): Promise<Reservation[]> {
    return (await this.owner.get<{ reservations: Reservation[] }>(`/api/jobs/${job.id}/reservations`)).body.reservations;
  }

  async recordOf(job: Made): Promise<string[]> {
    const { record } = (await this.owner.get<JobCard>(`/api/jobs/${job.id}`)).body;
    return record.filter(({ kind }) => kind === 'reservation').map(({ words }) => words);
  }

  async countersOf(thing: Made) {
    const [row] = await this.stock.query(
      'SELECT trim_scale(held)::text AS held, trim_scale(awaited)::text AS awaited, trim_scale(claimed)::text AS claimed FROM things WHERE id = $1',
      [thing.id],
    );
    return row;
  }

  async claimOf(job: Made): Promise<string> {
    return (await this.listed(job))[0]!.claimId!;
  }

  /** The job changes its state. */
  async close(job: Made, state: string) {
    const [row] = await this.stock.query<{ version: number; title: string }>('SELECT version, title FROM jobs WHERE id = $1', [
      job.id,
    ]);
    const paper = { title: row!.title, wanted: '', buildStandard: 'serviceable', priority: 3, state };
    return this.owner.patch(`/api/jobs/${job.id}`, paper, { ifMatch: row!.version });
  }

  async lotAndJob(quantity = '4', needed = '4'): Promise<{ partId: string; lot: Made; job: Job }> {
    const partId = await this.stock.part({ name: 'Oil thrower' });
    return { partId, lot: await this.stock.lot(partId, { quantity }), job: await this.stock.job([{ partId, quantity: needed }]) };
  }

  async ordered(partId: string, quantity: string, forJobId: string | null = null): Promise<string> {
    orders += 1;
    const order = {
      id: newId(),
      orderReference: `R-${orders}`,
      supplierName: 'Veldrow Bearings',
      partId,
      quantity,
      dueOn: '2031-03-01',
      confirmed: true,
      forJobId,
    };
    expect((await this.owner.post('/api/receipts', order)).status).toBe(200);
    return order.id;
  }

  arrive(receiptId: string, quantity: string, facts: Record<string, unknown> = {}) {
    return this.owner.post<{ lot: Made; outstanding: string }>(`/api/receipts/${receiptId}/arrivals`, {
      lotId: newId(),
      quantity,
      placeId: this.stock.placeId,
      source: 'new',
      make: 'genuine',
      ...facts,
    });
  }

  async editOrder(id: string, facts: Record<string, unknown>) {
    const [row] = await this.stock.query<{ version: number }>('SELECT version FROM expected_receipts WHERE id = $1', [id]);
    const paper = { dueOn: '2031-03-01', confirmed: true, forJobId: null, calledOff: false, note: '', ...facts };
    return this.owner.patch<Problem>(`/api/receipts/${id}`, paper, { ifMatch: row!.version });
  }
}
