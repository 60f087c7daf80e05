/**
 * The statements of one write as the server sends them, taken down from a real one and turned into a pattern, so that the
 * floor does the very same however the server changes.
 */
import 'reflect-metadata';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createApp } from '@corewright/api/dist/app.js';
import { Config } from '@corewright/api/dist/platform/config/config.js';
import { Database } from '@corewright/api/dist/platform/database/database.js';
import { createPool, valueTypes } from '@corewright/api/dist/platform/database/pool.js';
import { Log } from '@corewright/api/dist/platform/log.js';
import { newId } from '@corewright/api/dist/platform/new-id.js';
import { type LabelKind, makeCode } from '@corewright/codes/label-code';
import pg from 'pg';
import { type BenchDatabase, signIn, withClient } from './bench-cluster.js';
import { type Ask, askAll } from './clients.js';

/** What tells one write from another; its key among them. No two of them are alike. */
export type Facts = Readonly<Record<string, string | number>> & { key: string };

/** Where a value of a statement comes from: a fact of the write, an id or a label code made for it, a list of such, or always the same. */
type Slot = { fact: string } | { made: number } | { code: number; kind: LabelKind } | { list: Slot[] } | { same: unknown };

export interface Step {
  text: string;
  slots: Slot[];
}

interface Sent {
  text: string;
  values: unknown[];
}

/** What was made for one write so far. */
export interface Made {
  ids: string[];
  codes: string[];
}

const uuid = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;

const labelCode = /^([ULX])\d{8,}$/;
/** Far beyond what the sequences of the server come to. */
let codesMade = 50_000_000;

/**
 * Sends two writes of a kind through HTTP and gives what went to the database between BEGIN and COMMIT of the second, both included: the
 * first one reads what the server then keeps.
 */
export async function recordWrite(
  database: BenchDatabase,
  { asks, facts, personId }: { asks: readonly [Ask, Ask]; facts: Facts; personId: string },
): Promise<Step[]> {
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
    const asked = { origin: (await app.getUrl()).replace('localhost', '127.0.0.1'), headers: await signIn(database) };
    await askAll(asked, [asks]);
    const write = transactions.find((sent) => sent.some(({ values }) => values.includes(facts.key)));
    if (!write) throw new Error('The write sent no transaction that could be taken down');
    const before = new Set(
      transactions.slice(0, transactions.indexOf(write)).flatMap((sent) => sent.flatMap(({ values }) => values)),
    );
    return patternOf(write, facts, new Set([...before, personId]));
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

/** @param shared what an earlier write had as well: what is not made anew for each */
function patternOf(sent: readonly Sent[], facts: Facts, shared: ReadonlySet<unknown>): Step[] {
  const made: Made = { ids: [], codes: [] };
  const slotOf = (value: unknown): Slot => {
    if (Array.isArray(value)) return { list: value.map(slotOf) };
    const fact = Object.keys(facts).find((name) => facts[name] === value);
    if (fact !== undefined) return { fact };
    if (typeof value !== 'string' || shared.has(value)) return { same: value };
    const kind = labelCode.exec(value)?.[1] as LabelKind | undefined;
    if (kind !== undefined) return { code: placeIn(made.codes, value), kind };
    return uuid.test(value) ? { made: placeIn(made.ids, value) } : { same: value };
  };
  return sent.map(({ text, values }) => ({ text, slots: values.map(slotOf) }));
}

function nextCode(kind: LabelKind): string {
  codesMade += 1;
  return makeCode(kind, codesMade);
}

function placeIn(list: string[], value: string): number {
  if (!list.includes(value)) list.push(value);
  return list.indexOf(value);
}

/** The values of one step for another write. @param made what was made for this write so far; more is added where needed */
export function valuesOf(step: Step, facts: Facts, made: Made): unknown[] {
  const filled = (slot: Slot): unknown => {
    if ('same' in slot) return slot.same;
    if ('list' in slot) return slot.list.map(filled);
    if ('fact' in slot) return facts[slot.fact];
    if ('code' in slot) {
      while (made.codes.length <= slot.code) made.codes.push(nextCode(slot.kind));
      return made.codes[slot.code];
    }
    while (made.ids.length <= slot.made) made.ids.push(newId());
    return made.ids[slot.made];
  };
  return step.slots.map(filled);
}

/** Sends the steps of one write one after another, as whoever has no server would. */
export async function sendStraight(client: pg.Client, steps: readonly Step[], facts: Facts): Promise<void> {
  const made: Made = { ids: [], codes: [] };
  for (const [index, step] of steps.entries()) {
    if (step.slots.length === 0) await client.query(step.text);
    else await client.query({ name: `step${index}`, text: step.text, values: valuesOf(step, facts, made) });
  }
}

/** Connections that read values as the server does. */
export async function connectAs({ servingUrl }: BenchDatabase, count: number): Promise<pg.Client[]> {
  const clients = Array.from({ length: count }, () => new pg.Client({ connectionString: servingUrl, types: valueTypes }));
  await Promise.all(clients.map((client) => client.connect()));
  return clients;
}

export function personOf({ ownerUrl }: BenchDatabase): Promise<string> {
  return withClient(ownerUrl, async (client) => (await client.query<{ id: string }>('SELECT id FROM people')).rows[0]!.id);
}
