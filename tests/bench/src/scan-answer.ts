/** From a scan to its answer, against a bare route that reads one row by its primary key. */
import { type BenchCluster, type BenchDatabase, withClient } from './bench-cluster.js';
import type { BenchRow } from './bench-row.js';
import { startBare, startOurs } from './child-server.js';
import { type Ask, askAll, deal, type Timing } from './clients.js';
import { interleave, median, quantile, rounded } from './figures.js';
import { large, tenthOfLots } from './workshop-sizes.js';

const asksPerRound = 4000;
/** Until the engine has compiled what is hot and every connection has prepared its statements. */
const warmUpPasses = 2;
const reach = { median: 2.5, p99: 2, growth: 1.3 };

interface Sample {
  code: string;
  id: string;
}

/** Things of these kinds in the proportion in which the workshop holds them, in no order. */
function sampleOf(database: BenchDatabase, kinds: readonly ('L' | 'U')[]): Promise<Sample[]> {
  const text = `SELECT code, subject_id AS id FROM codes WHERE kind = ANY($1) ORDER BY md5(code) LIMIT ${asksPerRound}`;
  return withClient(database.ownerUrl, async (client) => (await client.query<Sample>(text, [kinds])).rows);
}

const scans = (sample: readonly Sample[]): Ask[][] =>
  deal(sample.map(({ code }): Ask => ({ method: 'GET', path: `/api/scan/${code}` })));
const reads = (sample: readonly Sample[]): Ask[][] =>
  deal(sample.map(({ id }): Ask => ({ method: 'GET', path: `/things/${id}` })));

export async function scanAnswer(cluster: BenchCluster): Promise<BenchRow[]> {
  const database = await cluster.workshopOf(large);
  const sample = await sampleOf(database, ['L', 'U']);
  const ours = await startOurs(database);
  const bare = await startBare(database);
  try {
    for (let pass = 0; pass < warmUpPasses; pass += 1) {
      await askAll(ours, scans(sample));
      await askAll(bare, reads(sample));
    }
    const pairs = await interleave(
      () => askAll(ours, scans(sample)),
      () => askAll(bare, reads(sample)),
    );
    return [
      ratioRow('scan-answer', 'median', pairs, 0.5, reach.median),
      ratioRow('scan-answer-p99', 'p99', pairs, 0.99, reach.p99),
    ];
  } finally {
    await Promise.all([ours.stop(), bare.stop()]);
  }
}

function ratioRow(
  id: string,
  name: string,
  pairs: readonly { ours: Timing; floor: Timing }[],
  share: number,
  most: number,
): BenchRow {
  const of = (side: 'ours' | 'floor'): number => median(pairs.map((pair) => quantile(pair[side].latencies, share)));
  const value = median(pairs.map((pair) => quantile(pair.ours.latencies, share) / quantile(pair.floor.latencies, share)));
  return {
    id,
    what: `scan to answer, ${name}, 8 clients, 100,000 lots: ${of('ours').toFixed(2)} ms against ${of('floor').toFixed(2)} ms of a bare route`,
    value: rounded(value),
    unit: 'ratio',
    reach: `at most ${most}`,
    holds: value <= most,
  };
}

/** The same scan, of lots alone, with ten times the lots. */
export async function scanGrowth(cluster: BenchCluster): Promise<BenchRow[]> {
  const [many, few] = [await cluster.workshopOf(large), await cluster.workshopOf(tenthOfLots)];
  const [sampleOfMany, sampleOfFew] = [await sampleOf(many, ['L']), await sampleOf(few, ['L'])];
  const [onMany, onFew] = [await startOurs(many), await startOurs(few)];
  try {
    for (let pass = 0; pass < warmUpPasses; pass += 1) {
      await askAll(onMany, scans(sampleOfMany));
      await askAll(onFew, scans(sampleOfFew));
    }
    const pairs = await interleave(
      () => askAll(onMany, scans(sampleOfMany)),
      () => askAll(onFew, scans(sampleOfFew)),
    );
    const value = median(pairs.map(({ ours, floor }) => quantile(ours.latencies, 0.5) / quantile(floor.latencies, 0.5)));
    const what = 'scan of a lot to answer, median, 8 clients: 100,000 lots against 10,000';
    return [
      {
        id: 'scan-growth',
        what,
        value: rounded(value),
        unit: 'ratio',
        reach: `at most ${reach.growth}`,
        holds: value <= reach.growth,
      },
    ];
  } finally {
    await Promise.all([onMany.stop(), onFew.stop()]);
  }
}
