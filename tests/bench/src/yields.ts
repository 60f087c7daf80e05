/** How often each component was serviceable, over a history of strip-downs far beyond what a small workshop will see. */
import { type BenchCluster, type BenchDatabase, withClient } from './bench-cluster.js';
import type { BenchRow } from './bench-row.js';
import { startOurs } from './child-server.js';
import { type Ask, askAll } from './clients.js';
import { median, quantile, rounded, rounds } from './figures.js';
import { componentsPerType } from './strip-data.js';
import { strippedDown } from './workshop-sizes.js';

const asksPerRound = 15;
const warmUpPasses = 2;
const reachMilliseconds = 100;

/** Whatever can be asked for, each by some of the things that it can be asked of. */
const questions = {
  'all of it': "SELECT '' AS query",
  'a type': "SELECT 'type=' || id AS query FROM unit_types ORDER BY md5(id::text)",
  'a grade': "SELECT 'grade=' || letter AS query FROM grades WHERE scale = 'core'",
  'a load': "SELECT 'load=' || id AS query FROM loads ORDER BY md5(id::text)",
  'a seller': "SELECT 'seller=' || id AS query FROM parties WHERE is_supplier ORDER BY md5(id::text)",
};

export async function yields(cluster: BenchCluster): Promise<BenchRow[]> {
  const database = await cluster.workshopOf(strippedDown);
  const ours = await startOurs(database);
  try {
    const found: { name: string; milliseconds: number }[] = [];
    for (const [name, text] of Object.entries(questions)) {
      const asks = await asksOf(database, text);
      for (let pass = 0; pass < warmUpPasses; pass += 1) await askAll(ours, [asks]);
      const medians: number[] = [];
      for (let round = 0; round < rounds; round += 1) medians.push(quantile((await askAll(ours, [asks])).latencies, 0.5));
      found.push({ name, milliseconds: median(medians) });
    }
    const value = Math.max(...found.map(({ milliseconds }) => milliseconds));
    const each = found.map(({ name, milliseconds }) => `${name} ${milliseconds.toFixed(1)}`).join(', ');
    return [
      {
        id: 'yields',
        what: `yields over ${strippedDown.units} strip-downs of ${componentsPerType} components, the slowest question, median, 1 client: ${each}`,
        value: rounded(value),
        unit: 'ms',
        reach: `at most ${reachMilliseconds}`,
        holds: value <= reachMilliseconds,
      },
    ];
  } finally {
    await ours.stop();
  }
}

async function asksOf(database: BenchDatabase, text: string): Promise<Ask[]> {
  const queries = await withClient(database.ownerUrl, async (client) => (await client.query<{ query: string }>(text)).rows);
  return Array.from({ length: asksPerRound }, (_, index) => ({
    method: 'GET',
    path: `/api/yields?${queries[index % queries.length]!.query}`,
  }));
}
