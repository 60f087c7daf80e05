import type { BenchRow } from './bench-row.js';

const headings = ['row', 'value', 'reach', '', 'what'];

/** The rows as a table for a terminal. */
export function tableOf(rows: readonly BenchRow[]): string {
  const cells = [headings, ...rows.map(cellsOf)];
  const widths = headings.map((_heading, column) => Math.max(...cells.map((line) => line[column]!.length)));
  return cells
    .map((line) =>
      line
        .map((cell, column) => cell.padEnd(widths[column]!))
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}

function cellsOf({ id, what, value, unit, reach, holds }: BenchRow): string[] {
  return [id, `${value} ${unit}`, reach, holds ? 'holds' : 'MISSED', what];
}
