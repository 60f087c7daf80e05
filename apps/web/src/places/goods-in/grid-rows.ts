import type { LoadRow } from '@corewright/contracts/goods-in';
import type { RowToKey } from './draft-desk.js';
import { valuesOf } from './row-contract.js';
import type { RowDraft } from './row-draft.js';
import { type Cell, cellsOf, ditto, dittoRow, type RowValues } from './row-values.js';

/** A row of the grid: what the server has, what was keyed since, or both. */
export interface GridRow {
  readonly id: string;
  readonly position: number;
  readonly row: LoadRow | null;
  readonly draft: RowDraft | null;
  readonly values: RowValues;
}

/** What an edit of the row is made on. */
export function baseOf({ row }: GridRow): RowDraft['base'] {
  return row === null ? null : { version: row.version, values: valuesOf(row) };
}

/** The rows below that a cell can be written into, in their order. */
export function rowsBelowWith(rows: readonly GridRow[], from: GridRow, cell: Cell): readonly GridRow[] {
  return rows.filter(
    ({ position, row, values }) =>
      position > from.position &&
      row?.struckOut !== true &&
      cellsOf(values.kind).includes(cell) &&
      (cell !== 'reference' || values.kind === from.values.kind),
  );
}

/** A cell of one row written into so many rows below it. */
export function filledDown(rows: readonly GridRow[], from: GridRow, cell: Cell, count: number): readonly RowToKey[] {
  return rowsBelowWith(rows, from, cell)
    .slice(0, count)
    .map((row) => ({
      id: row.id,
      position: row.position,
      values: ditto(row.values, from.values, cell),
      base: row.draft?.base ?? baseOf(row),
    }));
}

/** So many more rows like one, at the end of the load. */
export function moreLike(values: RowValues, count: number, firstPosition: number, newKey: () => string): readonly RowToKey[] {
  return asNewRows(
    Array.from({ length: count }, () => dittoRow(values)),
    firstPosition,
    newKey,
  );
}

/** Rows that the server is to have, in their order. */
export function asNewRows(rows: readonly RowValues[], firstPosition: number, newKey: () => string): readonly RowToKey[] {
  return rows.map((values, index) => ({ id: newKey(), position: firstPosition + index, values, base: null }));
}

/** The rows of the server with what was keyed since, and those that it does not have yet. */
export function mergeRows(saved: readonly LoadRow[], drafts: readonly RowDraft[]): readonly GridRow[] {
  const rows = new Map<string, GridRow>();
  for (const row of saved) rows.set(row.id, { id: row.id, position: row.position, row, draft: null, values: valuesOf(row) });
  for (const draft of drafts) {
    const known = rows.get(draft.id);
    rows.set(draft.id, {
      id: draft.id,
      position: known?.position ?? draft.position,
      row: known?.row ?? null,
      draft,
      values: draft.values,
    });
  }
  return [...rows.values()].toSorted((one, other) => one.position - other.position);
}
