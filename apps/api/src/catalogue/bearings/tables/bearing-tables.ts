import { contradictionsOf } from '@corewright/bearings/compare-bearings';
import { readDesignation } from '@corewright/bearings/read-designation';
import { readSuffixes } from '@corewright/bearings/read-suffixes';
import type { BearingTables } from '@corewright/contracts/bearings';
import { Injectable } from '@nestjs/common';
import type { Reader } from '../../../platform/database/database.js';
import { ShippedBearings } from '../shipped-bearings.js';
import { type OwnRow, ownDimensions, type SuffixRowKept, shippedFrom, suffixesKept } from './table.queries.js';

/** The tables of bearings as the workshop keeps them, with what in its own rows does not agree with anything else known. */
@Injectable()
export class BearingTablesAnswer {
  constructor(private readonly shipped: ShippedBearings) {}

  async of(reader: Reader, beginning: string): Promise<BearingTables> {
    const own = await ownDimensions(reader);
    const shipped = await shippedFrom(reader, beginning.toUpperCase().replace(/\s/g, ''));
    const suffixes = await suffixesKept(reader);
    return {
      own: own.map((row) => ({ ...row, contradictions: this.againstDimensions(row) })),
      shipped,
      suffixes: suffixes.map((row) => ({ ...row, contradictions: row.shipped ? [] : this.againstSuffix(row) })),
    };
  }

  /** What the designation says, and what the program ships, against a row of the workshop's own. */
  private againstDimensions(row: OwnRow): string[] {
    const reading = readDesignation(row.designation, []);
    const said = contradictionsOf({ ...row, reading });
    if (reading.type !== null && reading.type !== row.type)
      said.push(`${row.designation} reads as ${reading.type}, but ${row.type} stands beside it.`);
    const shipped = this.shipped.dimensionsOf(row.designation);
    if (shipped === null) return said;
    const pairs: [string, string, number | null][] = [
      ['bore', shipped.bore_mm, row.boreMm],
      ['outside diameter', shipped.outside_mm, row.outsideMm],
      ['width', shipped.width_mm, row.widthMm],
      ['chamfer', shipped.chamfer_min_mm, row.chamferMinMm],
    ];
    const differing = pairs.filter(([, theirs, ours]) => theirs !== '' && ours !== null && Number(theirs) !== ours);
    return [
      ...said,
      ...differing.map(
        ([name, theirs, ours]) => `The shipped row has ${name} ${theirs} mm (${shipped.source}); this one has ${ours} mm.`,
      ),
    ];
  }

  private againstSuffix(row: SuffixRowKept): string[] {
    const shipped = this.shipped.suffixOf(row.maker, row.suffix);
    const standard = readSuffixes(row.suffix, 0, []);
    const known = [shipped, ...(standard.stopped === null && standard.suffixes.length === 1 ? standard.suffixes : [])];
    return known
      .filter((other) => other !== null && (other.aspect !== row.aspect || other.value !== row.value))
      .map((other) => `Elsewhere it means ${other?.words} (${other?.source}).`);
  }
}
