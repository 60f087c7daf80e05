import type { SuffixRow } from '@corewright/bearings/bearing-types';
import { type BearingFacts, compareBearings, contradictionsMeasured, type Point } from '@corewright/bearings/compare-bearings';
import type { Measured } from '@corewright/bearings/find-by-measurement';
import { readDesignation } from '@corewright/bearings/read-designation';
import type { Reader } from '../../platform/database/database.js';
import { dimensionsNamed, makersSuffixes } from './bearing.queries.js';
import { factsOf, nameInTable } from './bearing-facts.js';

/** Two parts as bearings; null for one that none of its numbers names in the table. */
type Pair = { wanted: BearingFacts | null; other: BearingFacts | null };

const selectNumbers = `
  SELECT part_id AS "partId", number FROM part_numbers WHERE part_id = ANY ($1::uuid[]) ORDER BY is_main DESC, number, id`;

/** On these two bearings that are called the same may not differ. */
const outer: readonly Point[] = ['type', 'pieces', 'bore', 'outside', 'width'];

/**
 * In what two parts differ by the table of bearings, in sentences. Empty where they agree, and where one of them is no bearing that the
 * table knows: nothing is said of what is not known.
 */
export async function differencesOf(reader: Reader, wantedId: string, otherId: string): Promise<string[]> {
  return differencesIn(await pairOf(reader, wantedId, otherId));
}

/** The same, with what was measured of the one that is to be replaced against the one that is to take its place. */
export async function differencesWhenReplaced(
  reader: Reader,
  wantedId: string,
  otherId: string,
  measured: Measured,
  toleranceMm: number,
): Promise<string[]> {
  const pair = await pairOf(reader, wantedId, otherId);
  return [...differencesIn(pair), ...(pair.other === null ? [] : contradictionsMeasured(pair.other, measured, toleranceMm))];
}

function differencesIn({ wanted, other }: Pair): string[] {
  if (wanted === null || other === null) return [];
  return compareBearings(wanted, other)
    .points.filter(({ point, answer }) => outer.includes(point) && (answer === 'no' || answer === 'with care'))
    .map(({ reason }) => reason);
}

async function pairOf(reader: Reader, wantedId: string, otherId: string): Promise<Pair> {
  const [numbers, suffixes] = await Promise.all([
    reader.rows<{ partId: string; number: string }>(selectNumbers, [[wantedId, otherId]]),
    makersSuffixes(reader),
  ]);
  const numbersOf = (partId: string) => numbers.filter((row) => row.partId === partId).map((row) => row.number);
  const [wanted, other] = await Promise.all([
    bearingOf(reader, numbersOf(wantedId), suffixes),
    bearingOf(reader, numbersOf(otherId), suffixes),
  ]);
  return { wanted, other };
}

/** The first of the numbers that the table knows. */
async function bearingOf(
  reader: Reader,
  numbers: readonly string[],
  suffixes: readonly SuffixRow[],
): Promise<BearingFacts | null> {
  const readings = numbers.map((number) => readDesignation(number, suffixes));
  const rows = await dimensionsNamed(reader, readings.map(nameInTable));
  for (const reading of readings) {
    const row = rows.find(({ designation }) => designation === nameInTable(reading));
    if (row !== undefined) return factsOf(reading, row);
  }
  return null;
}
