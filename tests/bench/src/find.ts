/**
 * The one search by the words that people use, in this process, one question after another, in a workshop of 40,000 parts, 200,000 lots and 20,000 places. The floor
 * is one prepared SELECT that finds a number by its index, with its part and its maker, through the same pool.
 */
import { performance } from 'node:perf_hooks';
import type { BenchCluster } from './bench-cluster.js';
import type { BenchRow } from './bench-row.js';
import { interleave, median, quantile, rounded } from './figures.js';
import { openStoresDesk, type StoresDesk } from './stores-desk.js';
import { longHistory } from './workshop-sizes.js';

const asksPerRound = 200;
const warmUpPasses = 2;
const pageLength = 20;
const reach = 16;

/** As people say it: a nickname of a part or a place, a size in some way of writing with a word, the name of a type. */
const selectAsked = `
  SELECT words FROM (
    (SELECT nicknames AS words FROM parts WHERE nicknames <> '' ORDER BY md5(id::text) LIMIT $1)
    UNION ALL (SELECT nicknames FROM places WHERE nicknames <> '' ORDER BY md5(holder_id::text) LIMIT $1)
    UNION ALL (SELECT replace(substring(description FROM '[0-9]+ x [0-9]+ x [0-9]+'), ' ', '') || ' ' || lower(name) || 's' FROM parts WHERE description ~ ' x ' ORDER BY md5(id::text) LIMIT $1)
    UNION ALL (SELECT concat_ws(' ', makers.name, model, kind) FROM unit_types JOIN makers ON makers.id = maker_id ORDER BY md5(unit_types.id::text) LIMIT $1)) AS asked`;
const selectNumbers = 'SELECT number_key AS key FROM part_numbers ORDER BY md5(number || maker_id) LIMIT $1';
const floor = `
  SELECT number, parts.id, parts.name, makers.name AS maker
    FROM part_numbers JOIN parts ON parts.id = part_id JOIN makers ON makers.id = maker_id WHERE number_key = $1`;

export async function find(cluster: BenchCluster): Promise<BenchRow[]> {
  const desk = await openStoresDesk(await cluster.workshopOf(longHistory));
  try {
    const asked = await desk.reader.rows<{ words: string }>(selectAsked, [asksPerRound / 4]);
    const numbers = await desk.reader.rows<{ key: string }>(selectNumbers, [asked.length]);
    const ours = () => timed(asked, ({ words }) => found(desk, words));
    const bare = () => timed(numbers, async ({ key }) => (await desk.reader.rows(floor, [key])).length);
    for (let pass = 0; pass < warmUpPasses; pass += 1) {
      await ours();
      await bare();
    }
    const pairs = await interleave(ours, bare);
    const of = (side: 'ours' | 'floor', share: number): string =>
      median(pairs.map((pair) => quantile(pair[side], share))).toFixed(2);
    const value = median(pairs.map((pair) => quantile(pair.ours, 0.95) / quantile(pair.floor, 0.95)));
    const what = `what people call it, p95: ${of('ours', 0.95)} ms (median ${of('ours', 0.5)}) against ${of('floor', 0.95)} ms (${of('floor', 0.5)}) of one SELECT by index`;
    return [{ id: 'find', what, value: rounded(value), unit: 'ratio', reach: `at most ${reach}`, holds: value <= reach }];
  } finally {
    await desk.close();
  }
}

async function found({ search }: StoresDesk, words: string): Promise<number> {
  return (await search.hitsFor(words, pageLength)).hits.length;
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
