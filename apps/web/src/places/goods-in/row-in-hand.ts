import type { LoadRow } from '@corewright/contracts/goods-in';
import type { RowDraft } from './row-draft.js';
import type { Cell, RowValues } from './row-values.js';

/** The row in hand and what can be done with it: the editor and the hint below it share these. */
export interface RowInHand {
  readonly id: string;
  readonly loadId: string;
  readonly position: number;
  readonly values: RowValues;
  /** The server's reading of the row, if it has one. */
  readonly row: LoadRow | null;
  readonly draft: RowDraft | null;
  /** The row above, for ditto. */
  readonly above: RowValues | null;
  readonly today: string;
  readonly onKey: (values: RowValues) => void;
  /** Saves and goes to the next row, or to the one before. */
  readonly onNext: (step: 1 | -1) => void;
  readonly onUndo: () => void;
  /** How many rows below have this cell. */
  readonly rowsBelow: (cell: Cell) => number;
  /** So many more rows like this one. */
  readonly onAlike: (count: number) => void;
  /** This cell into so many rows below. */
  readonly onFillDown: (cell: Cell, count: number) => void;
  /** The whole row as the one above. */
  readonly onDittoRow: () => void;
  /** Takes back what was done last. */
  readonly onTakeBack: () => void;
  /** The focus has left the row. */
  readonly onLeave: () => void;
  readonly onSettle: (choice: 'mine' | 'theirs') => void;
}
