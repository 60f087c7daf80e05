import type { LabelCode } from '@corewright/codes/label-code';
import type { LabelStock } from '@corewright/contracts/labels';
import type { LabelSubject } from '../label-subject.js';

/** Cells of an A4 sheet. */
const cells = 24;

/** Labels of a load that belong on the stock: tags for units, bag labels for the rest; a sheet takes all. */
export function belongsOn(subject: LabelSubject, stock: LabelStock): boolean {
  return stock === 'A4 sheet' || subject.stock === stock;
}

export interface RunSize {
  labelCount: number;
  pageCount: number;
  nextFreeCell: number | null;
}

/** How many labels and pages a run has, and at which cell the next run on the last sheet may start: 1 is a fresh sheet. */
export function sizeOfRun(copies: readonly number[], stock: LabelStock, startCell: number): RunSize {
  const labelCount = copies.reduce((sum, count) => sum + count, 0);
  if (stock !== 'A4 sheet') return { labelCount, pageCount: labelCount, nextFreeCell: null };
  const used = startCell - 1 + labelCount;
  return { labelCount, pageCount: Math.ceil(used / cells), nextFreeCell: (used % cells) + 1 };
}

/** A code that is named twice is printed once. */
export function withoutRepeats(codes: readonly LabelCode[]): LabelCode[] {
  return [...new Set(codes)];
}
