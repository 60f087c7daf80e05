/** How many rebuilds the stock allows, of types that compete for it. */
import { type BenchCluster, withClient } from './bench-cluster.js';
import type { BenchRow } from './bench-row.js';
import { startOurs } from './child-server.js';
import { type Ask, askAll } from './clients.js';
import { fillCompetingTypes, partsWanted, typesCompeting } from './competing-types.js';
import { median, quantile, rounded, rounds } from './figures.js';
import { tenthOfLots } from './workshop-sizes.js';

const asksPerRound = 3;
const warmUpPasses = 2;
const reachMilliseconds = 1000;

export async function buildable(cluster: BenchCluster): Promise<BenchRow[]> {
  const database = await cluster.workshopOf(tenthOfLots);
  const types = await withClient(database.ownerUrl, fillCompetingTypes);
  const ours = await startOurs(database);
  try {
    const found: { name: string; milliseconds: number }[] = [];
    for (const [name, donors] of [
      ['cores left whole', 'left whole'],
      ['cores broken', 'broken'],
    ] as const) {
      const path = `/api/buildable?${new URLSearchParams({ types: types.join(','), donors })}`;
      const asks = Array.from({ length: asksPerRound }, (): Ask => ({ method: 'GET', path }));
      for (let pass = 0; pass < warmUpPasses; pass += 1) await askAll(ours, [asks]);
      const medians: number[] = [];
      for (let round = 0; round < rounds; round += 1) medians.push(quantile((await askAll(ours, [asks])).latencies, 0.5));
      found.push({ name, milliseconds: median(medians) });
    }
    const value = Math.max(...found.map(({ milliseconds }) => milliseconds));
    const each = found.map(({ name, milliseconds }) => `${name} ${Math.round(milliseconds)}`).join(', ');
    return [
      {
        id: 'buildable',
        what: `what could be built, ${typesCompeting} types that compete over ${partsWanted} parts, the slower question, median, 1 client: ${each}`,
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
