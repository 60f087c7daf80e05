import { cellsOf, sheetCells } from './label-sheet.js';
import { labelStocks } from './label-stock.js';

const stock = labelStocks['sheet-a4-24'];
const grid = stock.sheet!;
const cells = (count: number, start: number) => sheetCells(grid, stock.width, stock.height, count, start);

describe('A4 sheets of 24', () => {
  it('fills cells 8 to 18 of the first page when seven are gone', () => {
    const run = cells(11, 8);
    expect(run.map(({ cell }) => cell)).toEqual([8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18]);
    expect(run.every(({ page }) => page === 0)).toBe(true);
  });

  it('goes on at cell 1 of the next page', () => {
    expect(cells(3, 23).map(({ page, cell }) => [page, cell])).toEqual([
      [0, 23],
      [0, 24],
      [1, 1],
    ]);
    expect(cells(49, 24).at(-1)).toMatchObject({ page: 2, cell: 24 });
  });

  it('lays three columns of 70 mm and eight rows of 37 mm on the 300 dpi grid', () => {
    const run = cells(24, 1);
    expect(cellsOf(grid)).toBe(24);
    // 70 mm are 826.77 dots, 37 mm are 437.01, half a millimetre is 5.91.
    expect(run[0]).toMatchObject({ x: 0, y: 6 });
    expect(run[2]).toMatchObject({ x: 1654, y: 6 });
    expect(run[23]).toMatchObject({ x: 1654, y: 3065 });
  });

  it.each([0, 25, -1, 1.5, Number.NaN])('has no cell %d', (start) => {
    expect(() => cells(1, start)).toThrow(RangeError);
  });
});
