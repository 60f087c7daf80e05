import type { SuffixRow } from '@corewright/bearings/bearing-types';
import {
  type BearingFacts,
  compareBearings,
  contradictionsMeasured,
  contradictionsOf,
} from '@corewright/bearings/compare-bearings';
import { type Candidate, findByMeasurement, type Measured } from '@corewright/bearings/find-by-measurement';
import { type Reading, readDesignation } from '@corewright/bearings/read-designation';
import type {
  BearingDimensions,
  BearingInStores,
  BearingRead,
  BearingReading,
  BearingsCompared,
  BearingsMeasured,
  MeasuredCandidate,
} from '@corewright/contracts/bearings';
import { Injectable } from '@nestjs/common';
import { Database } from '../../platform/database/database.js';
import { badInput, RefusalError } from '../../platform/refusal.js';
import { partNumberKey } from '../part-number-key.js';
import { PartStock } from '../part-stock.js';
import {
  assembliesWith,
  type BearingNumber,
  dimensionsNear,
  dimensionsOf,
  makersSuffixes,
  numbersFronted,
} from './bearing.queries.js';
import { factsOf, nameInTable } from './bearing-facts.js';
import { frontsOf, TableNames } from './bearing-fronts.js';
import { keyedLength, toleranceMmUsual } from './keyed-length.js';

export interface KeyedMeasures {
  d: string;
  D: string;
  B: string;
  tolerance: string;
}

/** More would be no help: the count is told. */
const candidatesMax = 50;

const caution =
  "This compares figures and marks. Whether a bearing may be fitted is for the maker's manual, and its state for qualified people.";

/** Answers about bearings from the tables, with what is in stores beside each. */
@Injectable()
export class BearingDesk {
  private readonly names = new TableNames();

  constructor(
    private readonly database: Database,
    private readonly stock: PartStock,
  ) {}

  async read(designation: string, keyed: KeyedMeasures): Promise<BearingRead> {
    const { measured, toleranceMm } = measuresOf(keyed);
    const suffixes = await makersSuffixes(this.database);
    const { facts, shown } = await this.known(designation, suffixes);
    return { ...shown, contradictions: [...shown.contradictions, ...contradictionsMeasured(facts, measured, toleranceMm)] };
  }

  async measured(keyed: KeyedMeasures): Promise<BearingsMeasured> {
    const { measured, toleranceMm } = measuresOf(keyed);
    const [rows, suffixes] = await Promise.all([
      dimensionsNear(this.database, measured, toleranceMm),
      makersSuffixes(this.database),
    ]);
    const found = findByMeasurement(rows, measured, toleranceMm);
    if (!found.ok) throw new RefusalError(badInput('d', found.error.sentence));
    const { candidates, doubt } = found.value;
    return {
      measured,
      toleranceMm,
      count: candidates.length,
      candidates: await this.withStores(candidates, suffixes),
      doubt: doubt && {
        question: doubt.question,
        measured: doubt.measured,
        count: doubt.candidates.length,
        candidates: await this.withStores(doubt.candidates, suffixes),
      },
    };
  }

  async compare(a: string, b: string): Promise<BearingsCompared> {
    const suffixes = await makersSuffixes(this.database);
    const [wanted, other] = await Promise.all([this.known(a, suffixes), this.known(b, suffixes)]);
    return { ...mutable(compareBearings(wanted.facts, other.facts)), caution, wanted: wanted.shown, other: other.shown };
  }

  private async known(designation: string, suffixes: readonly SuffixRow[]): Promise<{ facts: BearingFacts; shown: BearingRead }> {
    const reading = readDesignation(designation, suffixes);
    const name = nameInTable(reading);
    const [dimensions, belongsTo, stores] = await Promise.all([
      dimensionsOf(this.database, name),
      reading.piece === 'whole' ? [] : assembliesWith(this.database, name),
      this.storesOf([name], suffixes),
    ]);
    const facts = factsOf(reading, dimensions);
    const shown = { reading: readingShown(reading), dimensions, belongsTo, contradictions: contradictionsOf(facts) };
    return { facts, shown: { ...shown, stores: stores.get(name) ?? [] } };
  }

  private async withStores(
    candidates: readonly Candidate<BearingDimensions>[],
    suffixes: readonly SuffixRow[],
  ): Promise<MeasuredCandidate[]> {
    const first = candidates.slice(0, candidatesMax);
    const stores = await this.storesOf(
      first.map(({ row }) => row.designation),
      suffixes,
    );
    return first.map(({ row, deviation }) => ({ dimensions: row, deviation, stores: stores.get(row.designation) ?? [] }));
  }

  /** Parts that bear a designation, with or without suffixes: 6205-2RS C3 stands beside 6205, 62052 does not. */
  private async storesOf(
    designations: readonly string[],
    suffixes: readonly SuffixRow[],
  ): Promise<ReadonlyMap<string, BearingInStores[]>> {
    const numbers = await numbersFronted(this.database, [...new Set(designations.flatMap(frontsOf))]);
    const free = await this.stock.freeOf(this.database, [...new Set(numbers.map(({ partId }) => partId))]);
    const nameOf = this.names.by(suffixes);
    const bears = (number: string, designation: string): boolean =>
      nameOf(number) === designation || partNumberKey(number) === partNumberKey(designation);
    return new Map(
      designations.map((designation) => {
        const fronts = frontsOf(designation);
        const bearing = numbers.filter(({ front, number }) => fronts.includes(front) && bears(number, designation));
        return [designation, partsOf(bearing, free)];
      }),
    );
  }
}

/** A part with several numbers of the bearing stands once: its stock is there once. */
function partsOf(bearing: readonly BearingNumber[], free: ReadonlyMap<string, string>): BearingInStores[] {
  const parts = new Map<string, BearingInStores>();
  for (const { partId, name, maker, number } of bearing) {
    const part = parts.get(partId) ?? { partId, name, numbers: [], free: free.get(partId) ?? '0' };
    part.numbers.push({ maker, number });
    parts.set(partId, part);
  }
  return [...parts.values()];
}

function measuresOf(keyed: KeyedMeasures): { measured: Measured; toleranceMm: number } {
  const measured = { boreMm: lengthOf('d', keyed.d), outsideMm: lengthOf('D', keyed.D), widthMm: lengthOf('B', keyed.B) };
  return { measured, toleranceMm: lengthOf('tolerance', keyed.tolerance) ?? toleranceMmUsual };
}

function lengthOf(path: string, keyed: string): number | null {
  const length = keyedLength(path, keyed);
  if (!length.ok) throw new RefusalError(length.error);
  return length.value;
}

function readingShown({ letters: _letters, named: _named, ...reading }: Reading): BearingReading {
  return { ...reading, prefixes: [...reading.prefixes], suffixes: [...reading.suffixes], notes: [...reading.notes] };
}

function mutable(
  compared: ReturnType<typeof compareBearings>,
): Pick<BearingsCompared, 'verdict' | 'sentence' | 'points' | 'contradictions'> {
  return { ...compared, points: [...compared.points], contradictions: [...compared.contradictions] };
}
