/** `npm run bench [-- --json] [--only ID,…]`: one table of ratios, ours against a floor measured beside it. */
import { parseArgs } from 'node:util';
import { type BenchCluster, startCluster } from './bench-cluster.js';
import type { BenchRow } from './bench-row.js';
import { buildable } from './buildable.js';
import { find } from './find.js';
import { importParts } from './import-parts.js';
import { jobCoverage } from './job-coverage.js';
import { labelRun } from './label-run.js';
import { asOf, history, verify } from './long-history.js';
import { bearingMeasure, mayServe, numberExact, numberNear } from './number-search.js';
import { photograph, photographQuiet } from './photographs.js';
import { putAway } from './put-away.js';
import { reserveContention } from './reserve-contention.js';
import { rowIn } from './row-in.js';
import { say } from './say.js';
import { scanAnswer, scanGrowth } from './scan-answer.js';
import { scanFit } from './scan-fit.js';
import { solveCold, solveEvent, solveExact, solveGrowth } from './solve.js';
import { tableOf } from './table.js';
import { yields } from './yields.js';

/** What gives each row. One that needs a workshop is given the cluster. */
const measures: { ids: string[]; measure: (cluster: () => Promise<BenchCluster>) => Promise<BenchRow[]> }[] = [
  { ids: ['scan-answer', 'scan-answer-p99'], measure: async (cluster) => scanAnswer(await cluster()) },
  { ids: ['scan-growth'], measure: async (cluster) => scanGrowth(await cluster()) },
  { ids: ['job-coverage'], measure: async (cluster) => jobCoverage(await cluster()) },
  { ids: ['scan-fit'], measure: async (cluster) => scanFit(await cluster()) },
  { ids: ['reserve-contention'], measure: async (cluster) => reserveContention(await cluster()) },
  { ids: ['row-in'], measure: async (cluster) => rowIn(await cluster()) },
  { ids: ['put-away'], measure: async (cluster) => putAway(await cluster()) },
  { ids: ['find'], measure: async (cluster) => find(await cluster()) },
  { ids: ['history'], measure: async (cluster) => history(await cluster()) },
  { ids: ['as-of'], measure: async (cluster) => asOf(await cluster()) },
  { ids: ['verify'], measure: async (cluster) => verify(await cluster()) },
  { ids: ['yields'], measure: async (cluster) => yields(await cluster()) },
  { ids: ['buildable'], measure: async (cluster) => buildable(await cluster()) },
  { ids: ['number-exact'], measure: async (cluster) => numberExact(await cluster()) },
  { ids: ['number-near'], measure: async (cluster) => numberNear(await cluster()) },
  { ids: ['may-serve'], measure: async (cluster) => mayServe(await cluster()) },
  { ids: ['bearing-measure'], measure: async (cluster) => bearingMeasure(await cluster()) },
  { ids: ['import-parts', 'import-parts-memory'], measure: async (cluster) => importParts(await cluster()) },
  { ids: ['photo'], measure: async (cluster) => photograph(await cluster()) },
  { ids: ['photo-quiet'], measure: async (cluster) => photographQuiet(await cluster()) },
  { ids: ['label-run'], measure: () => labelRun() },
  { ids: ['solve-cold'], measure: async () => solveCold() },
  { ids: ['solve-exact'], measure: () => solveExact() },
  { ids: ['solve-event'], measure: async () => solveEvent() },
  { ids: ['solve-growth'], measure: () => solveGrowth() },
];

async function main(): Promise<void> {
  const { values } = parseArgs({ options: { json: { type: 'boolean', default: false }, only: { type: 'string' } } });
  const wanted = idsOf(values.only);
  const started: Promise<BenchCluster>[] = [];
  const cluster = (): Promise<BenchCluster> => {
    if (started.length === 0) started.push(startCluster());
    return started[0]!;
  };
  const rows: BenchRow[] = [];
  try {
    for (const { ids, measure } of measures.filter((each) => each.ids.some((id) => wanted.includes(id)))) {
      say(`Measuring ${ids[0]} …`);
      rows.push(...(await measure(cluster)).filter((row) => wanted.includes(row.id)));
    }
  } finally {
    for (const each of started) await (await each).stop();
  }
  process.stdout.write(values.json ? `${JSON.stringify({ rows })}\n` : `${tableOf(rows)}\n`);
}

/** @throws Error where a row is asked for that there is not */
function idsOf(only: string | undefined): string[] {
  const known = measures.flatMap(({ ids }) => ids);
  if (only === undefined) return known;
  const asked = only.split(',').map((id) => id.trim());
  const strange = asked.filter((id) => !known.includes(id));
  if (strange.length > 0) throw new Error(`There is no row ${strange.join(', ')}. The rows are: ${known.join(', ')}.`);
  return known.filter((id) => asked.some((each) => id === each || id === `${each}-p99` || id === `${each}-memory`));
}

main().catch((error: unknown) => {
  say(error instanceof Error ? (error.stack ?? error.message) : String(error));
  process.exitCode = 1;
});
