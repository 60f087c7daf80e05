/** What one job of 60 lines has and lacks, asked by one client. */
import { type BenchCluster, type BenchDatabase, withClient } from './bench-cluster.js';
import type { BenchRow } from './bench-row.js';
import { startOurs } from './child-server.js';
import { type Ask, askAll } from './clients.js';
import { median, quantile, rounded, rounds } from './figures.js';
import { linesPerJob } from './workshop-data.js';
import { large } from './workshop-sizes.js';

const jobsPerRound = 60;
const warmUpPasses = 3;
const reachMilliseconds = 30;

export async function jobCoverage(cluster: BenchCluster): Promise<BenchRow[]> {
  const database = await cluster.workshopOf(large);
  const asks = (await jobsOf(database)).map((id): Ask => ({ method: 'GET', path: `/api/jobs/${id}/coverage` }));
  const ours = await startOurs(database);
  try {
    for (let pass = 0; pass < warmUpPasses; pass += 1) await askAll(ours, [asks]);
    const medians: number[] = [];
    for (let round = 0; round < rounds; round += 1) medians.push(quantile((await askAll(ours, [asks])).latencies, 0.5));
    const value = median(medians);
    return [
      {
        id: 'job-coverage',
        what: `coverage of one job of ${linesPerJob} lines, median, 1 client, 100,000 lots`,
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

function jobsOf(database: BenchDatabase): Promise<string[]> {
  const text = `SELECT job_id AS id FROM job_lines GROUP BY job_id HAVING count(*) = ${linesPerJob} ORDER BY md5(job_id::text) LIMIT ${jobsPerRound}`;
  return withClient(database.ownerUrl, async (client) => (await client.query<{ id: string }>(text)).rows.map((row) => row.id));
}
