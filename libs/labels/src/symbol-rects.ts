import type { DotRect, PlacedSymbol } from './label-scene.js';

/** A label's two symbols as an encoder hands them out: data, no drawing. */
export interface SymbolData {
  /** Code 128: widths in modules, bar first, then bar and space in turn. */
  linear: readonly number[];
  /** Data Matrix ECC 200: modules row by row from the top left, 1 is black. */
  matrix: MatrixData;
}

export interface MatrixData {
  pixs: readonly number[];
  pixx: number;
  pixy: number;
}

/** Quiet zones in modules: ISO/IEC 15417 (Code 128) asks for ten; two round the matrix, twice what ISO/IEC 16022 asks for. */
export const linearQuietModules = 10;
export const matrixQuietModules = 2;

export function linearModules(widths: readonly number[]): number {
  return widths.reduce((sum, width) => sum + width, 0);
}

/** Bars with their left end at `x`; the quiet zone lies outside to the left and right. All in dots. */
export function placeLinear(widths: readonly number[], moduleDots: number, x: number, y: number, height: number): PlacedSymbol {
  const rects: DotRect[] = [];
  let at = x;
  widths.forEach((width, index) => {
    if (index % 2 === 0) rects.push({ x: at, y, width: width * moduleDots, height });
    at += width * moduleDots;
  });
  const box = { x, y, width: at - x, height };
  const quiet = linearQuietModules * moduleDots;
  return { box, quiet: { x: x - quiet, y, width: box.width + 2 * quiet, height }, moduleDots, rects };
}

/** Modules with their top left corner at `x`, `y`; the quiet zone lies outside. Neighbours in a row become one rectangle. */
export function placeMatrix(matrix: MatrixData, moduleDots: number, x: number, y: number): PlacedSymbol {
  const rects: DotRect[] = [];
  for (let row = 0; row < matrix.pixy; row += 1) {
    let column = 0;
    while (column < matrix.pixx) {
      const begin = column;
      while (column < matrix.pixx && matrix.pixs[row * matrix.pixx + column] === 1) column += 1;
      if (column > begin) {
        const width = (column - begin) * moduleDots;
        rects.push({ x: x + begin * moduleDots, y: y + row * moduleDots, width, height: moduleDots });
      }
      column += 1;
    }
  }
  const quiet = matrixQuietModules * moduleDots;
  const box = { x, y, width: matrix.pixx * moduleDots, height: matrix.pixy * moduleDots };
  return {
    box,
    quiet: { x: x - quiet, y: y - quiet, width: box.width + 2 * quiet, height: box.height + 2 * quiet },
    moduleDots,
    rects,
  };
}
