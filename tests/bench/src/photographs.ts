/** How long a photograph of a phone takes to be kept, and what twenty of them do to the scans beside them. */
import sharp from 'sharp';
import { type BenchCluster, type BenchDatabase, withClient } from './bench-cluster.js';
import type { BenchRow } from './bench-row.js';
import { type ChildServer, startOurs } from './child-server.js';
import { type Ask, askAll } from './clients.js';
import { interleave, median, quantile, rounded, rounds } from './figures.js';
import { type PhotographSender, startSender } from './photograph-sender.js';
import { large } from './workshop-sizes.js';

const [width, height] = [4000, 3000];
const photographsPerRound = 4;
const scansAtOnce = 50;
const reach = { milliseconds: 500, quiet: 1.5 };

export async function photograph(cluster: BenchCluster): Promise<BenchRow[]> {
  const database = await cluster.workshopOf(large);
  const ours = await startOurs(database);
  try {
    const { subjectId, photographs } = await scene(database);
    const took = await withSender(await startSender({ server: ours, subjectId, photographs }), async (sender) => {
      const each: number[] = [];
      for (let round = 0; round < rounds; round += 1) each.push(...(await sender.send()));
      return each;
    });
    const value = median(took);
    const megabytes = (photographs[0]!.length / 1024 / 1024).toFixed(1);
    return [
      {
        id: 'photo',
        what: `a photograph of 12 megapixels (${megabytes} MB) from its first byte to its sizes kept, median of ${took.length}`,
        value: Math.round(value),
        unit: 'ms',
        reach: `at most ${reach.milliseconds}`,
        holds: value <= reach.milliseconds,
      },
    ];
  } finally {
    await ours.stop();
  }
}

export async function photographQuiet(cluster: BenchCluster): Promise<BenchRow[]> {
  const database = await cluster.workshopOf(large);
  const ours = await startOurs(database);
  try {
    const { subjectId, photographs, scans } = await scene(database);
    const pairs = await withSender(await startSender({ server: ours, subjectId, photographs }), async (sender) => {
      await askAll(ours, [scans]);
      return interleave(
        () => p95While(ours, scans, sender.send()),
        async () => quantile((await askAll(ours, [scans])).latencies, 0.95),
      );
    });
    const value = median(pairs.map((pair) => pair.ours / pair.floor));
    const of = (side: 'ours' | 'floor'): string => median(pairs.map((pair) => pair[side])).toFixed(2);
    return [
      {
        id: 'photo-quiet',
        what: `scan to answer, p95, 1 client, while ${photographsPerRound * rounds} photographs of 12 megapixels arrive: ${of('ours')} ms against ${of('floor')} ms`,
        value: rounded(value),
        unit: 'ratio',
        reach: `at most ${reach.quiet}`,
        holds: value <= reach.quiet,
      },
    ];
  } finally {
    await ours.stop();
  }
}

/** The first photographs start the process that makes the sizes, and are not counted. */
async function withSender<T>(sender: PhotographSender, work: (sender: PhotographSender) => Promise<T>): Promise<T> {
  try {
    await sender.send();
    return await work(sender);
  } finally {
    sender.stop();
  }
}

/** Scans until the other work has ended and no longer: what is scanned in the quiet afterwards would hide what it did. */
async function p95While(server: ChildServer, scans: readonly Ask[], work: Promise<unknown>): Promise<number> {
  let isOver = false;
  const ended = work.finally(() => {
    isOver = true;
  });
  const latencies: number[] = [];
  for (let at = 0; !isOver; at = (at + scansAtOnce) % scans.length)
    latencies.push(...(await askAll(server, [scans.slice(at, at + scansAtOnce)])).latencies);
  await ended;
  return quantile(
    latencies.toSorted((one, other) => one - other),
    0.95,
  );
}

async function scene(database: BenchDatabase): Promise<{ subjectId: string; photographs: Uint8Array[]; scans: Ask[] }> {
  const text = `SELECT code, subject_id AS id FROM codes WHERE kind IN ('L', 'U') ORDER BY md5(code) LIMIT 2000`;
  const things = await withClient(
    database.ownerUrl,
    async (client) => (await client.query<{ code: string; id: string }>(text)).rows,
  );
  const photographs: Uint8Array[] = [];
  for (let number = 1; number <= photographsPerRound; number += 1) photographs.push(await inventedPhotograph(number));
  return {
    subjectId: things[0]!.id,
    photographs,
    scans: things.map(({ code }) => ({ method: 'GET', path: `/api/scan/${code}` })),
  };
}

/** Slopes of light with the grain of a small sensor: as large as a phone's, and no two alike. */
async function inventedPhotograph(number: number): Promise<Uint8Array> {
  const points = Buffer.alloc(width * height * 3);
  let grain = number * 2_654_435_761;
  for (let y = 0, at = 0; y < height; y += 1)
    for (let x = 0; x < width; x += 1, at += 3) {
      grain = (Math.imul(grain, 1_664_525) + 1_013_904_223) | 0;
      const light = ((x + y * number) >> 5) & 127;
      const noise = (grain >>> 24) & 31;
      points[at] = 40 + light + noise;
      points[at + 1] = 50 + (light >> 1) + noise;
      points[at + 2] = 60 + ((x >> 6) & 63) + noise;
    }
  return new Uint8Array(
    await sharp(points, { raw: { width, height, channels: 3 } })
      .jpeg({ quality: 85 })
      .toBuffer(),
  );
}
