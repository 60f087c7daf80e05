/**
 * The statements of one fit as the server sends them, taken down from a real one and turned into a pattern, so that the
 * floor does the very same however the server changes.
 */
import 'reflect-metadata';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createApp } from '@corewright/api/dist/app.js';
import { Config } from '@corewright/api/dist/platform/config/config.js';
import { Database } from '@corewright/api/dist/platform/database/database.js';
import { createPool } from '@corewright/api/dist/platform/database/pool.js';
import { Log } from '@corewright/api/dist/platform/log.js';
import { newId } from '@corewright/api/dist/platform/new-id.js';
import type pg from 'pg';
import { type BenchDatabase, signIn } from './bench-cluster.js';
import { askAll } from './clients.js';
import { type FitTask, fitAsk } from './fit-tasks.js';

type Fact = keyof FitTask | 'key';

/** Where a value of a statement comes from: a fact of the fit, an id made for it, or always the same. */
type Slot = { fact: Fact } | { made: number } | { same: unknown };

export interface Step {
  text: string;
  slots: Slot[];
}

interface Sent {
  text: string;
  values: unknown[];
}

const uuid = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;

/** Fits one part through HTTP and gives what went to the database between BEGIN and COMMIT, both included. */
export async function recordFit(database: BenchDatabase, task: FitTask, personId: string): Promise<Step[]> {
  const transactions: Sent[][] = [];
  const pool = createPool(database.servingUrl, { max: 8 });
  pool.on('connect', (client) => listenIn(client, transactions));
  const config = new Config('127.0.0.1', 0, '', false, null, null, '0.0.0', 'warn', {
    folder: join(tmpdir(), 'corewright-bench-photographs'),
    megabytesMax: 40,
  });
  const app = await createApp(config, new Database(pool, database.servingUrl), new Log('warn'));
  try {
    await app.listen(0, '127.0.0.1');
    const key = newId();
    await askAll(
      {
        origin: (await app.getUrl()).replace('localhost', '127.0.0.1'),
        headers: await signIn(database),
      },
      // The first one reads what the server then keeps; it is the second that shows what every further one does.
      [[fitAsk(task, newId()), fitAsk(task, key)]],
    );
    const fit = transactions.find((sent) => sent.some(({ values }) => values.includes(key)));
    if (!fit) throw new Error('The fit sent no transaction that could be taken down');
    return patternOf(fit, { ...task, key }, personId);
  } finally {
    await app.close();
    await pool.end();
  }
}

function listenIn(client: pg.ClientBase, transactions: Sent[][]): void {
  const send = client.query.bind(client) as (...words: unknown[]) => unknown;
  let open: Sent[] | null = null;
  const query = (...words: unknown[]): unknown => {
    const [first] = words;
    const sent: Sent =
      typeof first === 'string'
        ? { text: first, values: [] }
        : { text: (first as Sent).text, values: (first as Sent).values ?? [] };
    if (sent.text === 'BEGIN') open = [];
    open?.push(sent);
    if (sent.text === 'COMMIT' && open) transactions.push(open);
    return send(...words);
  };
  Object.assign(client, { query });
}

function patternOf(sent: readonly Sent[], facts: Record<Fact, string>, personId: string): Step[] {
  const made: string[] = [];
  const slotOf = (value: unknown): Slot => {
    if (typeof value !== 'string' || value === personId) return { same: value };
    const fact = (Object.keys(facts) as Fact[]).find((name) => facts[name] === value);
    if (fact) return { fact };
    if (!uuid.test(value)) return { same: value };
    if (!made.includes(value)) made.push(value);
    return { made: made.indexOf(value) };
  };
  return sent.map(({ text, values }) => ({ text, slots: values.map(slotOf) }));
}

/** The values of one step for another fit. @param made ids made for this fit so far; more are added where needed */
export function valuesOf(step: Step, facts: Record<Fact, string>, made: string[]): unknown[] {
  return step.slots.map((slot) => {
    if ('same' in slot) return slot.same;
    if ('fact' in slot) return facts[slot.fact];
    while (made.length <= slot.made) made.push(newId());
    return made[slot.made];
  });
}
