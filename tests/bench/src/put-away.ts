/** Things put away per second through HTTP, against a loop that sends the same statements straight to the database. */
import { newId } from '@corewright/api/dist/platform/new-id.js';
import type pg from 'pg';
import { type BenchCluster, type BenchDatabase, demandTrueBooks, withClient } from './bench-cluster.js';
import type { BenchRow } from './bench-row.js';
import { type ChildServer, startOurs } from './child-server.js';
import { type Ask, askAll, clientCount } from './clients.js';
import { interleave, median, rounded } from './figures.js';
import { connectAs, personOf, recordWrite, type Step, sendStraight } from './recorded-write.js';
import { longHistory } from './workshop-sizes.js';

const putAwaysPerClient = 80;
/** Until the engine has compiled what is hot and every connection has prepared its statements. */
const warmUpRounds = 4;
const reach = 0.45;

/** One bag of a lot to be put away in a bin where it does not lie. */
interface AwayTask {
  code: string;
  thingId: string;
  fromHolderId: string;
  placeId: string;
  quantity: string;
}

/** A lot for each, so that nobody waits for anybody; of plenty, and all of it in one bin. */
const selectTasks = `
  SELECT codes.code, things.id AS "thingId", largest.holder_id AS "fromHolderId", '1' AS quantity
    FROM (SELECT id FROM things WHERE kind = 'L' AND held > 2000 ORDER BY md5(id::text) LIMIT $1) AS things
    JOIN codes ON codes.subject_id = things.id
    JOIN LATERAL (SELECT holder_id FROM balances JOIN holders ON holders.id = holder_id AND kind = 'place'
                   WHERE thing_id = things.id ORDER BY quantity DESC LIMIT 1) AS largest ON true`;
const selectSpareBins = `SELECT holder_id AS id FROM places WHERE kind = 'bin' ORDER BY md5(holder_id::text) LIMIT $1`;

export async function putAway(cluster: BenchCluster): Promise<BenchRow[]> {
  const database = await cluster.workshopOf(longHistory);
  const tasks = await tasksOf(database, clientCount * 2 + 1);
  const [ofOurs, ofFloor, spare] = [tasks.slice(0, clientCount), tasks.slice(clientCount, -1), tasks.at(-1)!];
  const steps = await stepsOfAway(database, spare);
  const ours = await startOurs(database);
  const clients = await connectAs(database, clientCount);
  try {
    for (let round = 0; round < warmUpRounds; round += 1) {
      await throughHttp(ours, ofOurs);
      await straight(database, clients, steps, ofFloor);
    }
    const pairs = await interleave(
      () => throughHttp(ours, ofOurs),
      () => straight(database, clients, steps, ofFloor),
    );
    await demandTrueBooks(database);
    const value = median(pairs.map((pair) => pair.ours / pair.floor));
    const rates = `${Math.round(median(pairs.map((pair) => pair.ours)))} against ${Math.round(median(pairs.map((pair) => pair.floor)))} a second`;
    const what = `things put away, 8 clients, forced to the disk: ${rates} of the same ${steps.length} statements without HTTP`;
    return [{ id: 'put-away', what, value: rounded(value), unit: 'ratio', reach: `at least ${reach}`, holds: value >= reach }];
  } finally {
    await Promise.all(clients.map((client) => client.end()));
    await ours.stop();
  }
}

/** Each has a bin of its own to go to, in which it does not lie yet. */
function tasksOf({ ownerUrl }: BenchDatabase, count: number): Promise<AwayTask[]> {
  return withClient(ownerUrl, async (client) => {
    const bins = (await client.query<{ id: string }>(selectSpareBins, [count * 3])).rows.map(({ id }) => id);
    const tasks = (await client.query<Omit<AwayTask, 'placeId'>>(selectTasks, [count])).rows;
    if (tasks.length !== count) throw new Error(`${count} lots were wanted and ${tasks.length} have plenty`);
    return tasks.map((task, index) => ({
      ...task,
      placeId: bins.slice(index * 3, index * 3 + 3).find((id) => id !== task.fromHolderId)!,
    }));
  });
}

/** The next bag is taken from the same bin: there is plenty in it. */
function awayAsk(task: AwayTask, key: string): Ask {
  const body = JSON.stringify({ code: task.code, placeId: task.placeId, quantity: task.quantity });
  const headers = {
    'content-type': 'application/json',
    'content-length': String(Buffer.byteLength(body)),
    'idempotency-key': key,
  };
  return { method: 'POST', path: '/api/put-aways', headers, body };
}

async function stepsOfAway(database: BenchDatabase, task: AwayTask): Promise<Step[]> {
  const key = newId();
  const asks = [awayAsk(task, newId()), awayAsk(task, key)] as const;
  return recordWrite(database, { asks, facts: { ...task, key }, personId: await personOf(database) });
}

/** @returns put away a second */
async function throughHttp(server: ChildServer, tasks: readonly AwayTask[]): Promise<number> {
  const asks = tasks.map((task) => Array.from({ length: putAwaysPerClient }, () => awayAsk(task, newId())));
  const { seconds } = await askAll(server, asks);
  return (clientCount * putAwaysPerClient) / seconds;
}

/** @returns put away a second */
async function straight(
  database: BenchDatabase,
  clients: readonly pg.Client[],
  steps: readonly Step[],
  tasks: readonly AwayTask[],
): Promise<number> {
  const begun = performance.now();
  await Promise.all(
    clients.map(async (client, index) => {
      for (let turn = 0; turn < putAwaysPerClient; turn += 1)
        await sendStraight(client, steps, { ...tasks[index]!, key: newId() });
    }),
  );
  const seconds = (performance.now() - begun) / 1000;
  // Nobody carries the news of this side; left lying, they would be carried at the cost of the other.
  await withClient(database.ownerUrl, (client) => client.query('DELETE FROM outbox'));
  return (clientCount * putAwaysPerClient) / seconds;
}
