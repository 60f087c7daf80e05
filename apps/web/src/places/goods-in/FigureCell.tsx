import { type KeyboardEvent, useId, useState } from 'react';
import { sayFailure } from '../../ui/Problem.js';
import styles from './CostSection.module.css';

export interface FigureCellProps {
  /** Read aloud, and what a test finds it by: "worth of row 3". */
  readonly label: string;
  /** What is kept; empty is not known. */
  readonly value: string;
  readonly placeholder?: string | undefined;
  readonly onKeep: (text: string) => Promise<void>;
}

/** A figure in a row, kept as soon as the cell is left. What was refused stays as it was keyed, with the reason under it. */
export function FigureCell({ label, value, placeholder, onKeep }: FigureCellProps) {
  const id = useId();
  const [keyed, setKeyed] = useState<string | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const keep = () => {
    const text = keyed?.trim() ?? value;
    if (text === value) return setKeyed(null);
    setFault(null);
    onKeep(text).then(
      () => setKeyed(null),
      (error: unknown) => setFault(sayFailure(error).detail),
    );
  };
  return (
    <>
      <input
        className={styles.figure}
        data-figures={label.split(' of ')[0]}
        aria-label={label}
        aria-invalid={fault === null ? undefined : true}
        aria-describedby={id}
        inputMode="decimal"
        autoComplete="off"
        placeholder={placeholder}
        value={keyed ?? value}
        maxLength={40}
        onChange={(event) => setKeyed(event.target.value)}
        onBlur={keep}
        onKeyDown={goDown}
      />
      <span id={id} aria-live="polite">
        {fault !== null && <span className={styles.fault}>{fault}</span>}
      </span>
    </>
  );
}

/** Enter goes to the same figure of the next row, which keeps this one. */
function goDown(event: KeyboardEvent<HTMLInputElement>): void {
  if (event.key !== 'Enter') return;
  event.preventDefault();
  const field = event.currentTarget;
  const column = [...(field.closest('table')?.querySelectorAll<HTMLInputElement>('input[data-figures]') ?? [])].filter(
    (other) => other.dataset.figures === field.dataset.figures,
  );
  const next = column[column.indexOf(field) + (event.shiftKey ? -1 : 1)];
  if (next === undefined) field.blur();
  else next.focus();
}
