/**
 * Search and substitutes in a catalogue of 1,000,000 numbers and 2,000,000 relations, in this process, one question after another.
 *
 * The floor is the least that could answer: one prepared SELECT that finds a number by its index, with its part and its maker, through the
 * same pool and reader.
 */
import { performance } from 'node:perf_hooks';
import type { Reader } from '@corewright/api/dist/platform/database/database.js';
import type { BenchCluster } from './bench-cluster.js';
import type { BenchRow } from './bench-row.js';
import { type CatalogueDesk, openDesk } from './catalogue-desk.js';
import { interleave, median, quantile, rounded } from './figures.js';
import { largeCatalogue } from './workshop-sizes.js';

const asksPerRound = 400;
const warmUpPasses = 2;
const pageLength = 20;
const reach = { exact: 3, fragment: 16, misspelt: 60, mayServe: 5, bearingMilliseconds: 10 };

interface Sample {
  number: string;
  key: string;
  partId: string;
}

const selectSample = `
  SELECT number, number_key AS key, part_id AS "partId" FROM part_numbers ORDER BY md5(number || maker_id) LIMIT ${asksPerRound}`;
const floor = `
  SELECT number, parts.id, parts.name, makers.name AS maker
    FROM part_numbers JOIN parts ON parts.id = part_id JOIN makers ON makers.id = maker_id WHERE number_key = $1`;

export async function numberExact(cluster: BenchCluster): Promise<BenchRow[]> {
  return onDesk(cluster, async (desk, sample) => [
    await ratioRow('number-exact', 'a number as printed', reach.exact, desk.reader, sample, ({ number }) => found(desk, number)),
  ]);
}

export async function numberNear(cluster: BenchCluster): Promise<BenchRow[]> {
  return onDesk(cluster, async (desk, sample) => {
    const [fragments, misspelt] = [new Map(sample.map(fragmentOf)), new Map(sample.map(misspellingOf))];
    return [
      await ratioRow('number-near', 'a piece of a number', reach.fragment, desk.reader, sample, (one) =>
        found(desk, fragments.get(one) ?? ''),
      ),
      await ratioRow('number-near', 'a number misspelt', reach.misspelt, desk.reader, sample, (one) =>
        found(desk, misspelt.get(one) ?? ''),
      ),
    ];
  });
}

export async function mayServe(cluster: BenchCluster): Promise<BenchRow[]> {
  return onDesk(cluster, async (desk, sample) => [
    await ratioRow(
      'may-serve',
      'what may be fitted in place of a part',
      reach.mayServe,
      desk.reader,
      sample,
      async ({ partId }) => {
        const answer = await desk.mayServe.of(partId, null);
        return answer?.candidates.length ?? 0;
      },
    ),
  ]);
}

/** Each row of the shipped table by its own bore and outside diameter, the width not known. */
export async function bearingMeasure(cluster: BenchCluster): Promise<BenchRow[]> {
  return onDesk(cluster, async (desk) => {
    const rows = await desk.reader.rows<{ d: string; D: string }>(
      'SELECT bore_mm::text AS d, outside_mm::text AS "D" FROM bearing_dimensions ORDER BY md5(designation)',
    );
    const ask = async (row: { d: string; D: string }) => (await desk.bearings.measured({ ...row, B: '', tolerance: '' })).count;
    await timed(rows, ask);
    const rounds: number[] = [];
    for (let round = 0; round < 5; round += 1) rounds.push(quantile(await timed(rows, ask), 0.95));
    const value = median(rounds);
    return [
      {
        id: 'bearing-measure',
        what: `bearings by bore and outside diameter, each of the ${rows.length} of the table, p95`,
        value: rounded(value),
        unit: 'ms',
        reach: `at most ${reach.bearingMilliseconds}`,
        holds: value <= reach.bearingMilliseconds,
      },
    ];
  });
}

async function onDesk(
  cluster: BenchCluster,
  measure: (desk: CatalogueDesk, sample: readonly Sample[]) => Promise<BenchRow[]>,
): Promise<BenchRow[]> {
  const desk = await openDesk(await cluster.workshopOf(largeCatalogue));
  try {
    return await measure(desk, await desk.reader.rows<Sample & Record<string, unknown>>(selectSample));
  } finally {
    await desk.close();
  }
}

async function ratioRow(
  id: string,
  name: string,
  most: number,
  reader: Reader,
  sample: readonly Sample[],
  ask: (one: Sample) => Promise<number>,
): Promise<BenchRow> {
  const bare = async ({ key }: Sample) => (await reader.rows(floor, [key])).length;
  for (let pass = 0; pass < warmUpPasses; pass += 1) {
    await timed(sample, ask);
    await timed(sample, bare);
  }
  const pairs = await interleave(
    () => timed(sample, ask),
    () => timed(sample, bare),
  );
  const of = (side: 'ours' | 'floor', share: number): string =>
    median(pairs.map((pair) => quantile(pair[side], share))).toFixed(2);
  const value = median(pairs.map((pair) => quantile(pair.ours, 0.95) / quantile(pair.floor, 0.95)));
  return {
    id,
    what: `${name}, p95: ${of('ours', 0.95)} ms (median ${of('ours', 0.5)}) against ${of('floor', 0.95)} ms (${of('floor', 0.5)}) of one SELECT by index`,
    value: rounded(value),
    unit: 'ratio',
    reach: `at most ${most}`,
    holds: value <= most,
  };
}

async function found(desk: CatalogueDesk, keyed: string): Promise<number> {
  return (await desk.search.find({ keyed, limit: pageLength })).parts.length;
}

/** @returns milliseconds of each answer, shortest first @throws Error where nothing is found: a figure of empty answers would be worth nothing */
async function timed<T>(items: readonly T[], ask: (item: T) => Promise<number>): Promise<Float64Array> {
  const latencies = new Float64Array(items.length);
  for (const [index, item] of items.entries()) {
    const begun = performance.now();
    const count = await ask(item);
    latencies[index] = performance.now() - begun;
    if (count === 0) throw new Error(`Nothing was found for ${JSON.stringify(item)}`);
  }
  return latencies.sort();
}

/** Four to six characters from behind the first. */
function fragmentOf(one: Sample, index: number): [Sample, string] {
  const length = 4 + (index % 3);
  const start = Math.max(1, one.key.length - length - (index % 2));
  return [one, one.key.slice(start, start + length)];
}

/** One character wrong, missing, doubled, or swapped with the next, in turn, somewhere behind the second. */
function misspellingOf(one: Sample, index: number): [Sample, string] {
  const all = [...one.key];
  const at = 2 + ((index * 7) % Math.max(1, all.length - 3));
  const here = all[at] ?? '';
  const edits = [['Q'], [], [here, here], [all[at + 1] ?? '', here]];
  const edit = edits[index % 4] ?? [];
  all.splice(at, index % 4 === 3 ? 2 : 1, ...edit);
  return [one, all.join('')];
}
