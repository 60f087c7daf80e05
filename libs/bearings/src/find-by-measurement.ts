import { millimetresPerInch } from '@corewright/quantities/inch';
import { accept, type Result, refuse } from '@corewright/quantities/result';

/** A row of the table of boundary dimensions, in millimetres. */
export interface Boundary {
  readonly designation: string;
  readonly boreMm: number;
  readonly outsideMm: number;
  /** B, or T of a taper roller bearing, or H of a thrust bearing: the width over all. */
  readonly widthMm: number;
}

/** What was measured, in millimetres; one of the three may be null. */
export interface Measured {
  readonly boreMm: number | null;
  readonly outsideMm: number | null;
  readonly widthMm: number | null;
}

export interface Candidate<Row extends Boundary> {
  readonly row: Row;
  /** The table's figure less the measured one, in millimetres; null where nothing was measured. */
  readonly deviation: Measured;
}

/** Nothing fits as measured, but something does if these figures are in the other unit. */
export interface UnitDoubt<Row extends Boundary> {
  readonly question: string;
  readonly measured: Measured;
  readonly candidates: readonly Candidate<Row>[];
}

export interface Found<Row extends Boundary> {
  readonly candidates: readonly Candidate<Row>[];
  readonly doubt: UnitDoubt<Row> | null;
}

const figures = ['boreMm', 'outsideMm', 'widthMm'] as const;
type Figure = (typeof figures)[number];
const names: Record<Figure, string> = { boreMm: 'bore', outsideMm: 'outside diameter', widthMm: 'width' };

/**
 * Bearings whose dimensions differ from the measured ones by at most the tolerance, the closest first (by the sum of the squared
 * deviations, then by name). Asks about the unit where nothing fits but a figure 25.4 times larger or smaller does.
 * @param toleranceMm what each figure may differ by
 */
export function findByMeasurement<Row extends Boundary>(
  rows: readonly Row[],
  measured: Measured,
  toleranceMm: number,
): Result<Found<Row>, 'too-little-measured'> {
  const known = figures.filter((figure) => measured[figure] !== null);
  if (known.length < 2)
    return refuse(
      'too-little-measured',
      'Measure at least two of bore, outside diameter and width: one figure alone fits too many.',
    );
  const candidates = fitting(rows, measured, toleranceMm);
  return accept({ candidates, doubt: candidates.length > 0 ? null : doubtOf(rows, measured, known, toleranceMm) });
}

function fitting<Row extends Boundary>(rows: readonly Row[], measured: Measured, toleranceMm: number): Candidate<Row>[] {
  // Binary fractions: a figure that differs by exactly the tolerance belongs to it.
  const most = toleranceMm + 1e-6;
  const fits = (figure: Figure, row: Row): boolean =>
    measured[figure] === null || Math.abs(row[figure] - measured[figure]) <= most;
  return rows
    .filter((row) => figures.every((figure) => fits(figure, row)))
    .map((row) => ({ row, deviation: deviationOf(row, measured) }))
    .sort((one, other) => distance(one) - distance(other) || (one.row.designation < other.row.designation ? -1 : 1));
}

function deviationOf(row: Boundary, measured: Measured): Measured {
  const of = (figure: Figure): number | null =>
    measured[figure] === null ? null : Math.round((row[figure] - measured[figure]) * 10_000) / 10_000;
  return { boreMm: of('boreMm'), outsideMm: of('outsideMm'), widthMm: of('widthMm') };
}

function distance(candidate: Candidate<Boundary>): number {
  return figures.reduce((sum, figure) => sum + (candidate.deviation[figure] ?? 0) ** 2, 0);
}

/** All figures in the other unit come first, then fewer of them: a person rarely changes unit in the middle. */
function doubtOf<Row extends Boundary>(
  rows: readonly Row[],
  measured: Measured,
  known: readonly Figure[],
  toleranceMm: number,
): UnitDoubt<Row> | null {
  for (const changed of subsets(known)) {
    for (const factor of [millimetresPerInch, 1 / millimetresPerInch]) {
      const other = scaled(measured, changed, factor);
      const candidates = fitting(rows, other, toleranceMm);
      if (candidates.length > 0) return { question: question(changed, known, factor), measured: other, candidates };
    }
  }
  return null;
}

function subsets(known: readonly Figure[]): Figure[][] {
  const all = Array.from({ length: 2 ** known.length - 1 }, (_, index) =>
    known.filter((_figure, place) => ((index + 1) >> place) & 1),
  );
  return all.sort((one, other) => other.length - one.length);
}

function scaled(measured: Measured, changed: readonly Figure[], factor: number): Measured {
  const of = (figure: Figure): number | null => {
    const value = measured[figure];
    return value !== null && changed.includes(figure) ? value * factor : value;
  };
  return { boreMm: of('boreMm'), outsideMm: of('outsideMm'), widthMm: of('widthMm') };
}

function question(changed: readonly Figure[], known: readonly Figure[], factor: number): string {
  const unit = factor > 1 ? 'inches' : 'millimetres';
  if (changed.length === known.length) return `Nothing fits as keyed. Did you measure in ${unit}?`;
  return `Nothing fits as keyed. Did you measure the ${changed.map((figure) => names[figure]).join(' and the ')} in ${unit}?`;
}
