import type { SuffixRow } from '@corewright/bearings/bearing-types';
import type { Measured } from '@corewright/bearings/find-by-measurement';
import type { BearingDimensions } from '@corewright/contracts/bearings';
import type { Reader } from '../../platform/database/database.js';

/** The columns of a row as the contracts show it. */
export const columns = `
  designation, type, bore_mm::float8 AS "boreMm", outside_mm::float8 AS "outsideMm", width_mm::float8 AS "widthMm",
  chamfer_min_mm::float8 AS "chamferMinMm", dynamic_rating_n::float8 AS "ratingN", source, shipped`;
const near = (column: string, value: string): string => `(${value}::float8 IS NULL OR least(abs(${column}::float8 - ${value}),
     abs(${column}::float8 - ${value} * 25.4), abs(${column}::float8 - ${value} / 25.4)) <= $4::float8 + 0.00001)`;
// All that can fit, in either unit: whether and how well it fits is for the library to say.
const selectNear = `
  SELECT ${columns} FROM bearing_dimensions
   WHERE ${near('bore_mm', '$1')} AND ${near('outside_mm', '$2')} AND ${near('width_mm', '$3')}`;
const selectOne = `SELECT ${columns} FROM bearing_dimensions WHERE designation = $1`;
const selectNamed = `SELECT ${columns} FROM bearing_dimensions WHERE designation = ANY ($1::text[])`;
// An inch assembly is named cone/cup.
const selectAssemblies = `
  SELECT ${columns} FROM bearing_dimensions
   WHERE type = 'taper roller' AND $1 IN (split_part(designation, '/', 1), split_part(designation, '/', 2))
   ORDER BY designation`;
const selectSuffixes = `SELECT suffix, aspect, value, words, maker FROM bearing_suffixes ORDER BY maker, suffix`;

/** Rows whose figures come within the tolerance of the measured ones, or of 25.4 times as much or as little. */
export function dimensionsNear(reader: Reader, measured: Measured, toleranceMm: number): Promise<BearingDimensions[]> {
  return reader.rows<BearingDimensions>(selectNear, [measured.boreMm, measured.outsideMm, measured.widthMm, toleranceMm]);
}

export function dimensionsOf(reader: Reader, designation: string): Promise<BearingDimensions | null> {
  return reader.row<BearingDimensions>(selectOne, [designation]);
}

export function dimensionsNamed(reader: Reader, designations: readonly string[]): Promise<BearingDimensions[]> {
  return reader.rows<BearingDimensions>(selectNamed, [designations]);
}

/** Assemblies with this cone or cup. @param number as the table writes it: capitals, no spaces */
export function assembliesWith(reader: Reader, number: string): Promise<BearingDimensions[]> {
  return reader.rows<BearingDimensions>(selectAssemblies, [number]);
}

export function makersSuffixes(reader: Reader): Promise<SuffixRow[]> {
  return reader.rows<SuffixRow & Record<string, unknown>>(selectSuffixes);
}

/** A number of the books that may name a bearing: it begins with the letters and figures of one. */
export interface BearingNumber {
  front: string;
  partId: string;
  name: string;
  maker: string;
  number: string;
}

/** Of numbers that begin so, those of which nothing is held are told as far as this; and those of which something is, as far as that. */
const knownMax = 12;
const stockedMax = 200;

const numberedSo = `SELECT id, part_id, maker_id, number, number_key FROM part_numbers WHERE number_front = wanted.front`;
const shortestFirst = 'ORDER BY length(number_key), number_key';
const selectNumbers = `
  SELECT wanted.front, parts.id AS "partId", parts.name, makers.name AS maker, found.number
    FROM unnest($1::text[]) AS wanted (front)
    CROSS JOIN LATERAL (
      (${numberedSo} ${shortestFirst} LIMIT ${knownMax})
      UNION
      (${numberedSo} AND EXISTS (SELECT 1 FROM lots JOIN things ON things.id = thing_id WHERE lots.part_id = part_numbers.part_id AND held > 0)
        ${shortestFirst} LIMIT ${stockedMax})) AS found
    JOIN parts ON parts.id = part_id JOIN makers ON makers.id = maker_id
   ORDER BY wanted.front, length(found.number_key), found.number_key, makers.name, parts.id`;

/** The numbers that begin with these letters and figures, as `frontOf` gives them. */
export function numbersFronted(reader: Reader, fronts: readonly string[]): Promise<BearingNumber[]> {
  return reader.rows<BearingNumber & Record<string, unknown>>(selectNumbers, [fronts]);
}
