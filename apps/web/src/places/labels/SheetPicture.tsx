import { classNames } from '../../ui/class-names.js';
import styles from './SheetPicture.module.css';

export const SHEET_CELLS = 24;

export interface SheetPictureProps {
  /** The first free cell, 1 to 24. */
  readonly start: number;
  /** How many labels the run needs. */
  readonly count: number;
}

/** An A4 sheet of 24 as it lies in the printer: cells that are gone, the cell where the run starts, and those it fills. */
export function SheetPicture({ start, count }: SheetPictureProps) {
  const end = Math.min(SHEET_CELLS, start + count - 1);
  const cells = Array.from({ length: SHEET_CELLS }, (_, index) => index + 1);
  const gone = start === 1 ? 'no cell used' : `cells 1 to ${start - 1} used`;
  return (
    <span
      className={styles.sheet}
      role="img"
      aria-label={`Sheet of 24: ${gone}, starts at cell ${start}${count > 0 ? `, fills to ${end}` : ''}`}
    >
      {cells.map((cell) => (
        <span
          key={cell}
          className={classNames(
            cell < start && styles.gone,
            cell >= start && cell <= end && styles.used,
            cell === start && count > 0 && styles.first,
          )}
        />
      ))}
    </span>
  );
}

/** How many sheets a run needs that starts at a cell. */
export function sheetsNeeded(start: number, count: number): number {
  return count === 0 ? 0 : Math.ceil((start - 1 + count) / SHEET_CELLS);
}
