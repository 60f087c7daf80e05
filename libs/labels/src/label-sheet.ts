/** Labels on sheets for office printers: which cell of which page each label goes to. */
import { dots, type PrinterResolution } from './label-scene.js';
import type { SheetGrid } from './label-stock.js';

/** The grid on which sheets are laid out, whatever the printer: fine enough for any, and all symbols fall on its dots. */
export const sheetResolution: PrinterResolution = 300;

export interface SheetCell {
  /** From 0. */
  page: number;
  /** From 1, row by row, as people count them. */
  cell: number;
  /** Top left corner on the page, in dots of {@link sheetResolution}. */
  x: number;
  y: number;
}

export function cellsOf(grid: SheetGrid): number {
  return grid.columns * grid.rows;
}

/**
 * The cells of a run, in order. The first page begins at `startCell` (the cells before it are used up), later pages at 1.
 * @throws RangeError when the sheet has no such cell: the server checks what people key before it comes here.
 */
export function sheetCells(
  grid: SheetGrid,
  cellWidth: number,
  cellHeight: number,
  count: number,
  startCell: number,
): SheetCell[] {
  const cells = cellsOf(grid);
  if (!Number.isInteger(startCell) || startCell < 1 || startCell > cells) {
    throw new RangeError(`The sheet has cells 1 to ${cells}; there is no cell ${startCell}`);
  }
  return Array.from({ length: count }, (_, index) => {
    const position = startCell - 1 + index;
    const cell = position % cells;
    const column = cell % grid.columns;
    const row = Math.floor(cell / grid.columns);
    return {
      page: Math.floor(position / cells),
      cell: cell + 1,
      x: dots(grid.left + column * cellWidth, sheetResolution),
      y: dots(grid.top + row * cellHeight, sheetResolution),
    };
  });
}
