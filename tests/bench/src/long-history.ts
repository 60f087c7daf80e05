/** What a ledger of 5,000,000 movements costs those who ask: the page of what was recorded, stock as it was, and the books rebuilt. */
import { readFile } from 'node:fs/promises';
import { performance } from 'node:perf_hooks';
import { Database } from '@corewright/api/dist/platform/database/database.js';
import { createPool } from '@corewright/api/dist/platform/database/pool.js';
import { verifyBooks } from '@corewright/api/dist/stores/verify/verify-books.js';
import { type BenchCluster, type BenchDatabase, withClient } from './bench-cluster.js';
import type { BenchRow } from './bench-row.js';
import { median, rounded, rounds } from './figures.js';
import { openStoresDesk, type StoresDesk } from './stores-desk.js';
import { longHistory } from './workshop-sizes.js';

const reach = { historyMilliseconds: 30, placeMilliseconds: 50, everythingSeconds: 4, verifySeconds: 10, verifyMegabytes: 500 };
const entries = 500;
const sampled = 20;

/** Lots and bins that have so many movements, a little more than a page. */
const busyLots = `SELECT thing_id AS id FROM movements WHERE thing_id IN (SELECT thing_id FROM lots ORDER BY thing_id LIMIT 500) GROUP BY thing_id HAVING count(*) >= $1 ORDER BY md5(thing_id::text) LIMIT $2`;
const busyBins = `
  SELECT holder_id AS id FROM (SELECT holder_id FROM places WHERE kind = 'bin' ORDER BY md5(holder_id::text) LIMIT 400) AS bins
   WHERE (SELECT count(*) FROM movements WHERE to_holder_id = holder_id) + (SELECT count(*) FROM movements WHERE from_holder_id = holder_id) >= $1 LIMIT $2`;
const racks = `SELECT holder_id AS id FROM places WHERE kind = 'rack' ORDER BY md5(holder_id::text) LIMIT $1`;
/** The beginning, the middle, where most of the ledger is read, and the end. */
const instants = `
  SELECT recorded_at AS at FROM unnest(ARRAY[0.02, 0.35, 0.5, 0.65, 0.98]) AS share
   CROSS JOIN LATERAL (SELECT recorded_at FROM movements WHERE sequence >= share * (SELECT max(sequence) FROM movements) ORDER BY sequence LIMIT 1) AS there`;

export async function history(cluster: BenchCluster): Promise<BenchRow[]> {
  return onDesk(cluster, async (desk) => {
    const row = async (of: 'thing' | 'place', ids: readonly { id: string }[], name: string): Promise<BenchRow> => {
      const value = await slowMedian(ids, async ({ id }) => {
        const page = await desk.history.page({ of, id, isKeeper: true }, { kinds: '', limit: entries });
        if (page.entries.length < entries) throw new Error(`Only ${page.entries.length} entries were found`);
      });
      return rowOf(
        'history',
        `the ${entries} newest entries of ${name}, of all that is on record, the slowest of ${ids.length}`,
        value,
        'ms',
        reach.historyMilliseconds,
      );
    };
    const ask = (text: string) => desk.reader.rows<{ id: string }>(text, [entries, sampled]);
    return [await row('thing', await ask(busyLots), 'a lot'), await row('place', await ask(busyBins), 'a place')];
  });
}

export async function asOf(cluster: BenchCluster): Promise<BenchRow[]> {
  return onDesk(cluster, async (desk) => {
    const moments = await desk.reader.rows<{ at: string }>(instants);
    const places = [
      ...(await desk.reader.rows<{ id: string }>(busyBins, [1, sampled])),
      ...(await desk.reader.rows<{ id: string }>(racks, [sampled / 4])),
    ];
    const questions = places.flatMap(({ id }) => moments.map(({ at }) => ({ at, placeId: id })));
    const ofPlace = await slowMedian(questions, async (question) => {
      await desk.asOf.totals(question);
      await desk.asOf.page(question);
    });
    const seconds = (await slowMedian(moments, async ({ at }) => void (await desk.asOf.totals({ at })))) / 1000;
    return [
      rowOf(
        'as-of',
        `a bin or a rack as it was, its lines and its sums, the slowest of ${questions.length}`,
        ofPlace,
        'ms',
        reach.placeMilliseconds,
      ),
      rowOf(
        'as-of',
        `everything as it was, the slowest of ${moments.length} instants over all years`,
        seconds,
        's',
        reach.everythingSeconds,
      ),
    ];
  });
}

/** The memory of this process and of every process of the database that worked for it, less what they share. */
export async function verify(cluster: BenchCluster): Promise<BenchRow[]> {
  const database = await cluster.workshopOf(longHistory);
  const pool = createPool(database.servingUrl, { max: 2 });
  try {
    const books = new Database(pool, database.servingUrl);
    const before = process.memoryUsage().rss;
    const seconds: number[] = [];
    let most = 0;
    for (let round = 0; round < rounds; round += 1) {
      const watch = watchMemory(database);
      const begun = performance.now();
      const differences = await verifyBooks(books);
      seconds.push((performance.now() - begun) / 1000);
      most = Math.max(most, (await watch.most()) + Math.max(0, process.memoryUsage().rss - before) / 1_048_576);
      if (differences.length > 0) throw new Error(`The books differ: ${JSON.stringify(differences.slice(0, 3))}`);
    }
    return [
      rowOf('verify', 'every balance and counter rebuilt from the movements', median(seconds), 's', reach.verifySeconds),
      rowOf(
        'verify',
        'the most memory that its processes of the database held of their own, and what this one grew by',
        most,
        'MB',
        reach.verifyMegabytes,
      ),
    ];
  } finally {
    await pool.end();
  }
}

/** Looks every 50 ms what the processes of this database hold that is theirs alone. Only Linux tells. */
function watchMemory({ ownerUrl }: BenchDatabase): { most(): Promise<number> } {
  let isOver = false;
  const looked = withClient(ownerUrl, async (client) => {
    let most = 0;
    while (!isOver) {
      const { rows } = await client.query<{ pid: number }>(
        'SELECT pid FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid()',
      );
      const held = await Promise.all(rows.map(({ pid }) => ownMegabytesOf(pid)));
      most = Math.max(
        most,
        held.reduce((sum, megabytes) => sum + megabytes, 0),
      );
      await new Promise((settle) => setTimeout(settle, 50));
    }
    return most;
  });
  return {
    most: () => {
      isOver = true;
      return looked;
    },
  };
}

/** Nought for a process that has ended meanwhile. */
async function ownMegabytesOf(pid: number): Promise<number> {
  const status = await readFile(`/proc/${pid}/status`, 'utf8').catch(() => '');
  return Number(/^RssAnon:\s+(\d+) kB$/m.exec(status)?.[1] ?? 0) / 1024;
}

async function onDesk(cluster: BenchCluster, measure: (desk: StoresDesk) => Promise<BenchRow[]>): Promise<BenchRow[]> {
  const desk = await openStoresDesk(await cluster.workshopOf(longHistory));
  try {
    return await measure(desk);
  } finally {
    await desk.close();
  }
}

/** @returns milliseconds of the slowest question, the median over the rounds, after one to warm up */
async function slowMedian<T>(questions: readonly T[], ask: (question: T) => Promise<void>): Promise<number> {
  const slowest: number[] = [];
  for (let round = 0; round <= rounds; round += 1) {
    const times: number[] = [];
    for (const question of questions) {
      const begun = performance.now();
      await ask(question);
      times.push(performance.now() - begun);
    }
    if (round > 0) slowest.push(Math.max(...times));
  }
  return median(slowest);
}

function rowOf(id: string, what: string, value: number, unit: string, most: number): BenchRow {
  return { id, what, value: rounded(value), unit, reach: `at most ${most}`, holds: value <= most };
}
