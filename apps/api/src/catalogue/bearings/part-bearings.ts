import { type BearingFacts, compareBearings, contradictionsMeasured, type Point } from '@corewright/bearings/compare-bearings';
import type { Measured } from '@corewright/bearings/find-by-measurement';
import { readDesignation } from '@corewright/bearings/read-designation';
import type { Reader } from '../../platform/database/database.js';
import { dimensionsNamed, makersSuffixes } from './bearing.queries.js';
import { factsOf, nameInTable } from './bearing-facts.js';

/** Parts as bearings; without those that none of their numbers names in the table. */
export type PartBearings = ReadonlyMap<string, BearingFacts>;

const selectNumbers = `
  SELECT part_id AS "partId", number FROM part_numbers WHERE part_id = ANY ($1::uuid[]) ORDER BY is_main DESC, number, id`;

/** On these two bearings that are called the same may not differ. */
const outer: readonly Point[] = ['type', 'pieces', 'bore', 'outside', 'width'];

/**
 * In what two parts differ by the table of bearings, in sentences. Empty where they agree, and where one of them is no bearing that the
 * table knows: nothing is said of what is not known.
 */
export function differencesIn(bearings: PartBearings, wantedId: string, otherId: string): string[] {
  const [wanted, other] = [bearings.get(wantedId), bearings.get(otherId)];
  if (wanted === undefined || other === undefined) return [];
  return compareBearings(wanted, other)
    .points.filter(({ point, answer }) => outer.includes(point) && (answer === 'no' || answer === 'with care'))
    .map(({ reason }) => reason);
}

/** The same, with what was measured of the one that is to be replaced against the one that is to take its place. */
export async function differencesWhenReplaced(
  reader: Reader,
  wantedId: string,
  otherId: string,
  measured: Measured,
  toleranceMm: number,
): Promise<string[]> {
  const bearings = await bearingsOf(reader, [wantedId, otherId]);
  const other = bearings.get(otherId);
  const measuredDifferences = other === undefined ? [] : contradictionsMeasured(other, measured, toleranceMm);
  return [...differencesIn(bearings, wantedId, otherId), ...measuredDifferences];
}

/** What the table knows of these parts, each by the first of its numbers that the table has. Three statements, however many they are. */
export async function bearingsOf(reader: Reader, partIds: readonly string[]): Promise<PartBearings> {
  const [numbers, suffixes] = await Promise.all([
    reader.rows<{ partId: string; number: string }>(selectNumbers, [partIds]),
    makersSuffixes(reader),
  ]);
  const read = numbers.map(({ partId, number }) => {
    const reading = readDesignation(number, suffixes);
    return { partId, reading, name: nameInTable(reading) };
  });
  const rows = await dimensionsNamed(reader, [...new Set(read.map(({ name }) => name))]);
  const named = new Map(rows.map((row) => [row.designation, row]));
  const bearings = new Map<string, BearingFacts>();
  for (const { partId, reading, name } of read) {
    const row = named.get(name);
    if (row !== undefined && !bearings.has(partId)) bearings.set(partId, factsOf(reading, row));
  }
  return bearings;
}
