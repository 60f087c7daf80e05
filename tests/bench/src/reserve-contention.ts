/**
 * Many clients that want the same few lots at the same time: tries of reserving a second, those that are refused among them, against the
 * transactions a second of whoever sends the same statements straight to the database, on as many connections as the server has.
 */

import { newId } from '@corewright/api/dist/platform/new-id.js';
import { makeCode } from '@corewright/codes/label-code';
import type pg from 'pg';
import { type BenchCluster, type BenchDatabase, demandTrueBooks, withClient } from './bench-cluster.js';
import type { BenchRow } from './bench-row.js';
import { type ChildServer, startOurs } from './child-server.js';
import { type Ask, askAll } from './clients.js';
import { interleave, median, rounded, rounds } from './figures.js';
import { connectAs, personOf, recordWrite, type Step, sendStraight } from './recorded-write.js';
import { large } from './workshop-sizes.js';

const clientCount = 64;
const lotCount = 50;
const triesOfAll = 20_000;
const triesPerClient = Math.ceil(triesOfAll / rounds / clientCount);
/** Every second try finds something, or nearly so. */
const perLot = Math.floor((triesPerClient * clientCount) / lotCount / 2);
const plenty = 1_000_000;
/** As many as the server opens. */
const connectionCount = 16;
const warmUpRounds = 1;
const reach = 0.45;

/** One of a scarce lot for the line of a job that asks for it. */
interface ReserveTask {
  jobId: string;
  lineId: string;
  thingId: string;
}

export async function reserveContention(cluster: BenchCluster): Promise<BenchRow[]> {
  const database = await cluster.workshopOf(large);
  const scarce = await makeScene(database, perLot);
  const ample = await makeScene(database, plenty);
  const steps = await stepsOfReserve(database, ample);
  const ours = await startOurs(database);
  const clients = await connectAs(database, connectionCount);
  let refused = 0;
  try {
    const throughHttp = async (round: number): Promise<number> => {
      await giveBackAll(database, scarce.lots);
      const { perSecond, reserved } = await tryThroughHttp(ours, scarce, round);
      await demandOncePromised(database, scarce.lots, reserved);
      refused += triesPerClient * clientCount - reserved;
      return perSecond;
    };
    const straight = (round: number) => sendAll(database, clients, steps, ample, round);
    for (let round = 0; round < warmUpRounds; round += 1) {
      await throughHttp(round);
      await straight(round);
    }
    refused = 0;
    const pairs = await interleave(
      (round) => throughHttp(warmUpRounds + round),
      (round) => straight(warmUpRounds + round),
    );
    await demandTrueBooks(database);
    const value = median(pairs.map((pair) => pair.ours / pair.floor));
    const rates = `${Math.round(median(pairs.map((pair) => pair.ours)))} against ${Math.round(median(pairs.map((pair) => pair.floor)))} a second`;
    const tries = rounds * triesPerClient * clientCount;
    const what = `tries of reserving, ${clientCount} clients, ${lotCount} lots, ${refused} of ${tries} refused: ${rates} of the same ${steps.length} statements without HTTP`;
    return [
      { id: 'reserve-contention', what, value: rounded(value), unit: 'ratio', reach: `at least ${reach}`, holds: value >= reach },
    ];
  } finally {
    await Promise.all(clients.map((client) => client.end()));
    await ours.stop();
  }
}

interface Scene {
  lots: string[];
  /** of each client's job, a task for each lot */
  tasks: ReserveTask[][];
}

const insertParts = `
  INSERT INTO parts (id, name, unit_of_measure, material) SELECT gen_random_uuid(), 'Scarce washer', 'each', 'metal' FROM generate_series(1, $1::int) RETURNING id`;
const insertThings = `INSERT INTO things (id, kind) SELECT unnest($1::uuid[]), 'L'`;
const insertLots = `
  INSERT INTO lots (thing_id, part_id, source, make, condition) SELECT thing_id, part_id, 'new', 'genuine', 'as new'
    FROM unnest($1::uuid[], $2::uuid[]) AS made (thing_id, part_id)`;
const nextSerials = `SELECT nextval('code_serial_l')::integer AS serial FROM generate_series(1, $1::int)`;
const codeLots = `
  INSERT INTO codes (code, kind, subject_id) SELECT code, 'L', id FROM unnest($1::uuid[], $2::text[]) AS made (id, code)`;
const bringIn = `
  INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at)
  SELECT gen_random_uuid(), (SELECT key FROM commands LIMIT 1), thing_id, $2,
         (SELECT id FROM holders WHERE kind = 'count-difference'), (SELECT id FROM holders WHERE kind = 'place' ORDER BY id LIMIT 1), 'opening stock', now()
    FROM unnest($1::uuid[]) AS made (thing_id)`;
const insertLines = `
  INSERT INTO job_lines (id, job_id, line_no, part_id, quantity, operation_id)
  SELECT gen_random_uuid(), wanting.id, 1000 + (SELECT coalesce(max(line_no), 0) FROM job_lines WHERE job_id = wanting.id) % 20000 + number, part_id, 100000000,
         (SELECT job_operations.id FROM job_operations WHERE job_id = wanting.id ORDER BY number LIMIT 1)
    FROM (SELECT id FROM jobs WHERE state NOT IN ('done', 'released', 'called off', 'estimate')
             AND EXISTS (SELECT FROM job_operations WHERE job_id = jobs.id) ORDER BY id LIMIT $2) AS wanting
   CROSS JOIN unnest($1::uuid[]) WITH ORDINALITY AS wanted (part_id, number)
  RETURNING id AS "lineId", job_id AS "jobId", part_id AS "partId"`;

/** Lots that nobody else wants, and as many jobs as there are clients, each with a line for each of them. */
function makeScene({ ownerUrl }: BenchDatabase, quantity: number): Promise<Scene> {
  return withClient(ownerUrl, async (client) => {
    const parts = (await client.query<{ id: string }>(insertParts, [lotCount])).rows.map(({ id }) => id);
    const lots = parts.map(() => newId());
    await client.query(insertThings, [lots]);
    await client.query(insertLots, [lots, parts]);
    const { rows: serials } = await client.query<{ serial: number }>(nextSerials, [lots.length]);
    await client.query(codeLots, [lots, serials.map(({ serial }) => makeCode('L', serial))]);
    await client.query(bringIn, [lots, quantity]);
    const lines = (await client.query<{ lineId: string; jobId: string; partId: string }>(insertLines, [parts, clientCount])).rows;
    await client.query('ANALYZE parts, things, lots, codes, job_lines, claims');
    const jobIds = [...new Set(lines.map(({ jobId }) => jobId))];
    if (jobIds.length !== clientCount) throw new Error(`${clientCount} jobs were wanted and there are ${jobIds.length}`);
    const tasks = jobIds.map((jobId) =>
      lines
        .filter((line) => line.jobId === jobId)
        .map(({ lineId, partId }) => ({ jobId, lineId, thingId: lots[parts.indexOf(partId)]! })),
    );
    return { lots, tasks };
  });
}

/** Each client goes through the lots from another one on, with a stride of its own, so that all meet on all. */
function turnOf({ tasks }: Scene, client: number, round: number): ReserveTask[] {
  const ofClient = tasks[client % tasks.length]!;
  const strides = [1, 3, 7, 9, 11, 13, 17, 19];
  const stride = strides[client % strides.length]!;
  return Array.from({ length: triesPerClient }, (_, index) => ofClient[(client + round + index * stride) % ofClient.length]!);
}

function reserveAsk({ jobId, lineId, thingId }: ReserveTask, key: string): Ask {
  const body = JSON.stringify({ until: null, lines: [{ lineId, quantity: '1', thingId }] });
  const headers = {
    'content-type': 'application/json',
    'content-length': String(Buffer.byteLength(body)),
    'idempotency-key': key,
  };
  return { method: 'POST', path: `/api/jobs/${jobId}/reservations`, headers, body };
}

async function stepsOfReserve(database: BenchDatabase, { tasks }: Scene): Promise<Step[]> {
  const [first, task] = [tasks[0]![0]!, tasks[1]![1]!];
  const key = newId();
  const asks = [reserveAsk(first, newId()), reserveAsk(task, key)] as const;
  return recordWrite(database, { asks, facts: { ...task, key }, personId: await personOf(database) });
}

/** What is promised is what was answered: a refusal promises nothing, and nothing is promised twice. */
async function demandOncePromised({ ownerUrl }: BenchDatabase, lots: readonly string[], reserved: number): Promise<void> {
  const text = 'SELECT sum(claimed)::int AS claimed, bool_and(claimed <= held) AS within FROM things WHERE id = ANY ($1::uuid[])';
  const row = await withClient(
    ownerUrl,
    async (client) => (await client.query<{ claimed: number; within: boolean }>(text, [lots])).rows[0]!,
  );
  if (row.claimed !== reserved || !row.within)
    throw new Error(`${reserved} were told that they have one, and ${row.claimed} are claimed`);
}

function giveBackAll({ ownerUrl }: BenchDatabase, lots: readonly string[]): Promise<unknown> {
  return withClient(ownerUrl, (client) =>
    client.query('UPDATE claims SET quantity = 0 WHERE thing_id = ANY ($1::uuid[]) AND quantity > 0', [lots]),
  );
}

async function tryThroughHttp(
  server: ChildServer,
  scene: Scene,
  round: number,
): Promise<{ perSecond: number; reserved: number }> {
  const asks = Array.from({ length: clientCount }, (_, client) =>
    turnOf(scene, client, round).map((task) => reserveAsk(task, newId())),
  );
  const { seconds, statuses } = await askAll(server, asks, [200, 409]);
  return { perSecond: (triesPerClient * clientCount) / seconds, reserved: statuses.get(200) ?? 0 };
}

/** @returns transactions a second */
async function sendAll(
  database: BenchDatabase,
  clients: readonly pg.Client[],
  steps: readonly Step[],
  scene: Scene,
  round: number,
): Promise<number> {
  const turns = Array.from({ length: clientCount }, (_, client) => turnOf(scene, client, round));
  const begun = performance.now();
  await Promise.all(
    clients.map(async (client, index) => {
      for (const tasks of turns.filter((_, turn) => turn % clients.length === index))
        for (const task of tasks) await sendStraight(client, steps, { ...task, key: newId() });
    }),
  );
  const seconds = (performance.now() - begun) / 1000;
  // Nobody carries the news of this side; left lying, they would be carried at the cost of the other.
  await withClient(database.ownerUrl, (client) => client.query('DELETE FROM outbox'));
  return (triesPerClient * clientCount) / seconds;
}
