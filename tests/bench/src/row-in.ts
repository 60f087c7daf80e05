/** From a row of goods-in that was keyed to its answer, against a bare transaction of the same statements. */
import { newId } from '@corewright/api/dist/platform/new-id.js';
import type pg from 'pg';
import { type BenchCluster, type BenchDatabase, demandTrueBooks, withClient } from './bench-cluster.js';
import type { BenchRow } from './bench-row.js';
import { startOurs } from './child-server.js';
import { type Ask, askAll, clientCount, type Timing } from './clients.js';
import { interleave, median, quantile, rounded } from './figures.js';
import { connectAs, type Facts, personOf, recordWrite, type Step, sendStraight } from './recorded-write.js';
import { large } from './workshop-sizes.js';

const rowsPerClient = 40;
/** Until the engine has compiled what is hot and every connection has prepared its statements. */
const warmUpRounds = 4;
const reach = 2.5;

/** One row to be keyed: into which load, on which line, and as what thing. */
interface RowTask {
  loadId: string;
  rowId: string;
  position: number;
}

export async function rowIn(cluster: BenchCluster): Promise<BenchRow[]> {
  const database = await cluster.workshopOf(large);
  const partId = await partOf(database);
  const loads = await openLoads(database, clientCount * 2 + 1);
  const [ofOurs, ofFloor, spare] = [loads.slice(0, clientCount), loads.slice(clientCount, -1), loads.at(-1)!];
  const steps = await stepsOfRow(database, spare, partId);
  const ours = await startOurs(database);
  const clients = await connectAs(database, clientCount);
  const keyed = (round: number) =>
    askAll(
      ours,
      ofOurs.map((loadId) => turnOf(loadId, round).map((task) => rowAsk(task, partId, newId()))),
    );
  const straight = (round: number) => sendAll(database, clients, steps, ofFloor, round);
  try {
    for (let round = 0; round < warmUpRounds; round += 1) {
      await keyed(round);
      await straight(round);
    }
    const pairs = await interleave(
      (round) => keyed(warmUpRounds + round),
      (round) => straight(warmUpRounds + round),
    );
    await demandTrueBooks(database);
    const of = (side: 'ours' | 'floor'): number => median(pairs.map((pair) => quantile(pair[side].latencies, 0.5)));
    const value = median(pairs.map((pair) => quantile(pair.ours.latencies, 0.5) / quantile(pair.floor.latencies, 0.5)));
    const what = `a row of goods-in, median, 8 clients: ${of('ours').toFixed(2)} ms against ${of('floor').toFixed(2)} ms of the same ${steps.length} statements without HTTP`;
    return [{ id: 'row-in', what, value: rounded(value), unit: 'ratio', reach: `at most ${reach}`, holds: value <= reach }];
  } finally {
    await Promise.all(clients.map((client) => client.end()));
    await ours.stop();
  }
}

/** Each client goes on in its load where it stopped the round before. */
function turnOf(loadId: string, round: number): RowTask[] {
  return Array.from({ length: rowsPerClient }, (_, index) => ({
    loadId,
    rowId: newId(),
    position: round * rowsPerClient + index + 1,
  }));
}

function rowAsk({ loadId, rowId, position }: RowTask, partId: string, key: string): Ask {
  const body = JSON.stringify({ kind: 'lot', position, partId, quantity: '4', source: 'old stock', make: 'genuine' });
  const headers = {
    'content-type': 'application/json',
    'content-length': String(Buffer.byteLength(body)),
    'idempotency-key': key,
  };
  return { method: 'PUT', path: `/api/loads/${loadId}/rows/${rowId}`, headers, body };
}

async function stepsOfRow(database: BenchDatabase, loadId: string, partId: string): Promise<Step[]> {
  // a line that is no other number of the statements
  const [first, task] = [1001, 1002].map((position): RowTask => ({ loadId, rowId: newId(), position })) as [RowTask, RowTask];
  const key = newId();
  const asks = [rowAsk(first, partId, newId()), rowAsk(task, partId, key)] as const;
  return recordWrite(database, { asks, facts: { ...task, key }, personId: await personOf(database) });
}

async function sendAll(
  database: BenchDatabase,
  clients: readonly pg.Client[],
  steps: readonly Step[],
  loads: readonly string[],
  round: number,
): Promise<Timing> {
  const latencies: number[] = [];
  const begun = performance.now();
  await Promise.all(
    clients.map(async (client, index) => {
      for (const task of turnOf(loads[index]!, round)) {
        const facts: Facts = { ...task, key: newId() };
        const sent = performance.now();
        await sendStraight(client, steps, facts);
        latencies.push(performance.now() - sent);
      }
    }),
  );
  const seconds = (performance.now() - begun) / 1000;
  // Nobody carries the news of this side; left lying, they would be carried at the cost of the other.
  await withClient(database.ownerUrl, (client) => client.query('DELETE FROM outbox'));
  return { latencies: Float64Array.from(latencies).sort(), seconds };
}

/** Metal, so that no age is reckoned. */
function partOf({ ownerUrl }: BenchDatabase): Promise<string> {
  const text = "SELECT id FROM parts WHERE material = 'metal' ORDER BY id LIMIT 1";
  return withClient(ownerUrl, async (client) => (await client.query<{ id: string }>(text)).rows[0]!.id);
}

function openLoads({ ownerUrl }: BenchDatabase, count: number): Promise<string[]> {
  const text = `
    INSERT INTO loads (id, words, seller_id, bought_on) SELECT gen_random_uuid(), 'Load of spares', (SELECT id FROM parties WHERE is_supplier ORDER BY id LIMIT 1), '2026-11-02'
      FROM generate_series(1, $1::int) RETURNING id`;
  return withClient(ownerUrl, async (client) => (await client.query<{ id: string }>(text, [count])).rows.map(({ id }) => id));
}
