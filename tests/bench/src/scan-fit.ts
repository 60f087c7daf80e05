/** Fits committed per second through HTTP, against a loop that sends the same statements straight to the database. */
import { newId } from '@corewright/api/dist/platform/new-id.js';
import type pg from 'pg';
import { type BenchCluster, type BenchDatabase, demandTrueBooks, withClient } from './bench-cluster.js';
import type { BenchRow } from './bench-row.js';
import { type ChildServer, startOurs } from './child-server.js';
import { askAll, clientCount } from './clients.js';
import { interleave, median, rounded } from './figures.js';
import { type FitTask, fitAsk, fitTasks } from './fit-tasks.js';
import { connectAs, personOf, recordWrite, type Step, sendStraight } from './recorded-write.js';
import { large } from './workshop-sizes.js';

const fitsPerClient = 80;
/** Until the engine has compiled what is hot and every connection has prepared its statements. */
const warmUpRounds = 4;
const reach = 0.45;

export async function scanFit(cluster: BenchCluster): Promise<BenchRow[]> {
  const database = await cluster.workshopOf(large);
  const [tasksOfOurs, tasksOfFloor] = [
    await fitTasks(database, clientCount, 0),
    await fitTasks(database, clientCount, clientCount),
  ];
  const [[spare]] = (await fitTasks(database, 1, clientCount * 2)) as [[FitTask]];
  const steps = await stepsOfFit(database, spare);
  const ours = await startOurs(database);
  const clients = await connectAs(database, clientCount);
  try {
    for (let round = 0; round < warmUpRounds; round += 1) {
      await fitThroughHttp(ours, tasksOfOurs, round);
      await fitStraight(database, clients, steps, tasksOfFloor, round);
    }
    const pairs = await interleave(
      (round) => fitThroughHttp(ours, tasksOfOurs, warmUpRounds + round),
      (round) => fitStraight(database, clients, steps, tasksOfFloor, warmUpRounds + round),
    );
    await demandTrueBooks(database);
    const value = median(pairs.map((pair) => pair.ours / pair.floor));
    const rates = `${Math.round(median(pairs.map((pair) => pair.ours)))} against ${Math.round(median(pairs.map((pair) => pair.floor)))} a second`;
    const what = `fit scans committed, 8 clients, forced to the disk: ${rates} of the same ${steps.length} statements without HTTP`;
    return [{ id: 'scan-fit', what, value: rounded(value), unit: 'ratio', reach: `at least ${reach}`, holds: value >= reach }];
  } finally {
    await Promise.all(clients.map((client) => client.end()));
    await ours.stop();
  }
}

async function stepsOfFit(database: BenchDatabase, task: FitTask): Promise<Step[]> {
  const key = newId();
  const asks = [fitAsk(task, newId()), fitAsk(task, key)] as const;
  return recordWrite(database, { asks, facts: { ...task, key }, personId: await personOf(database) });
}

/** Each client goes on along its job's lines where it stopped the round before. */
function turnOf(tasks: readonly FitTask[], round: number): FitTask[] {
  return Array.from({ length: fitsPerClient }, (_, index) => tasks[(round * fitsPerClient + index) % tasks.length]!);
}

/** @returns fits a second */
async function fitThroughHttp(server: ChildServer, tasks: readonly FitTask[][], round: number): Promise<number> {
  const asks = tasks.map((ofClient) => turnOf(ofClient, round).map((task) => fitAsk(task, newId())));
  const { seconds } = await askAll(server, asks);
  return (clientCount * fitsPerClient) / seconds;
}

/** @returns fits a second */
async function fitStraight(
  database: BenchDatabase,
  clients: readonly pg.Client[],
  steps: readonly Step[],
  tasks: readonly FitTask[][],
  round: number,
): Promise<number> {
  const begun = performance.now();
  await Promise.all(clients.map((client, index) => fitOneByOne(client, steps, turnOf(tasks[index]!, round))));
  const seconds = (performance.now() - begun) / 1000;
  // Nobody carries the news of this side; left lying, they would be carried at the cost of the other.
  await withClient(database.ownerUrl, (client) => client.query('DELETE FROM outbox'));
  return (clientCount * fitsPerClient) / seconds;
}

async function fitOneByOne(client: pg.Client, steps: readonly Step[], tasks: readonly FitTask[]): Promise<void> {
  for (const task of tasks) await sendStraight(client, steps, { ...task, key: newId() });
}
