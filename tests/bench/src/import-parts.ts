/**
 * 100,000 parts with their numbers, sent as a file and checked row by row, against COPY of the same rows into the same tables with
 * the same indexes: what the database alone needs, with nothing read and nothing checked.
 */
import { performance } from 'node:perf_hooks';
import { partNumberKey } from '@corewright/api/dist/catalogue/part-number-key.js';
import { newId } from '@corewright/api/dist/platform/new-id.js';
import type pg from 'pg';
import type { BenchCluster, BenchDatabase } from './bench-cluster.js';
import { withClient } from './bench-cluster.js';
import type { BenchRow } from './bench-row.js';
import { type ChildServer, startOurs } from './child-server.js';
import { CopyIn } from './copy-in.js';
import { interleave, median, rounded } from './figures.js';
import { large } from './workshop-sizes.js';

const partCount = 100_000;
const reach = 0.45;
const megabytesMax = 400;
const maker = 'Brantock';

interface Part {
  number: string;
  name: string;
  description: string;
}

export async function importParts(cluster: BenchCluster): Promise<BenchRow[]> {
  const database = await cluster.workshopOf(large);
  const ours = await startOurs(database);
  try {
    const pairs = await interleave(
      (round) => throughImport(ours, partsOf(`8${round}`)),
      (round) => straightIn(database, partsOf(`9${round}`)),
    );
    const value = median(pairs.map((pair) => pair.floor / pair.ours));
    const peak = await ours.peakMegabytes();
    const seconds = `${median(pairs.map((pair) => pair.ours)).toFixed(1)} s against ${median(pairs.map((pair) => pair.floor)).toFixed(1)} s`;
    return [
      {
        id: 'import-parts',
        what: `${partCount.toLocaleString('en-GB')} parts with their numbers from a file: rate against COPY of the same rows, ${seconds}`,
        value: rounded(value),
        unit: 'ratio',
        reach: `at least ${reach}`,
        holds: value >= reach,
      },
      {
        id: 'import-parts-memory',
        what: 'the most memory that the server held meanwhile',
        value: Math.round(peak),
        unit: 'MB',
        reach: `under ${megabytesMax}`,
        holds: peak < megabytesMax,
      },
    ];
  } finally {
    await ours.stop();
  }
}

const words = [
  'Pinion',
  'seal',
  'washer',
  'bearing',
  'cone',
  'stud',
  'casing',
  'spring',
  'thrust',
  'plate',
  'gasket',
  'bush',
  'shaft',
];

/** Parts whose numbers no other round has. */
function partsOf(prefix: string): Part[] {
  const word = (index: number): string => words[index % words.length] ?? '';
  return Array.from({ length: partCount }, (_, index) => ({
    number: `${prefix}-${(index * 7919) % 1_000_003}`,
    name: `${word(index)} ${word(index * 7 + 3)}`,
    description: `${word(index * 3)} of the ${word(index * 11 + 5)}, size ${index % 977}`,
  }));
}

/** @returns seconds from the first byte sent to the report */
async function throughImport(server: ChildServer, parts: readonly Part[]): Promise<number> {
  const lines = parts.map(({ number, name, description }) => `${maker},${number},${name},"${description}"\n`);
  const form = new FormData();
  form.append('parts', new Blob(['maker,number,name,description\n', ...lines]), 'parts.csv');
  const begun = performance.now();
  const headers = { ...server.headers, 'idempotency-key': newId() };
  const answer = await fetch(`${server.origin}/api/imports?apply=yes`, { method: 'POST', headers, body: form });
  const report = (await answer.json()) as { applied?: boolean; files?: { added: number }[] };
  if (!report.applied || report.files?.[0]?.added !== partCount)
    throw new Error(`The import was not taken: ${JSON.stringify(report).slice(0, 500)}`);
  return (performance.now() - begun) / 1000;
}

/** @returns seconds that COPY takes, what it copies made before */
function straightIn({ servingUrl }: BenchDatabase, parts: readonly Part[]): Promise<number> {
  return withClient(servingUrl, async (client) => {
    const { rows } = await client.query<{ id: string }>('SELECT id FROM makers WHERE name = $1', [maker]);
    const [intoParts, intoNumbers]: [string[], string[]] = [[], []];
    for (const { number, name, description } of parts) {
      const id = newId();
      intoParts.push(`${id}\t${name}\t${description}\t\teach\tmetal\t\n`);
      intoNumbers.push(`${newId()}\t${id}\t${rows[0]?.id}\t${number}\t${partNumberKey(number)}\tt\n`);
    }
    const begun = performance.now();
    await client.query('BEGIN');
    await copy(client, 'parts (id, name, description, nicknames, unit_of_measure, material, polymer)', intoParts);
    await copy(client, 'part_numbers (id, part_id, maker_id, number, number_key, is_main)', intoNumbers);
    await client.query('COMMIT');
    return (performance.now() - begun) / 1000;
  });
}

function copy(client: pg.Client, into: string, lines: readonly string[]): Promise<void> {
  return client.query(new CopyIn(`COPY ${into} FROM STDIN`, lines.join(''))).done;
}
