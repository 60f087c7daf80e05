import { type FocusEvent, type KeyboardEvent, useEffect, useRef } from 'react';
import { Code } from '../../ui/Code.js';
import { classNames } from '../../ui/class-names.js';
import styles from './LoadGrid.module.css';
import { RowCell } from './RowCell.js';
import { RowHint } from './RowHint.js';
import type { RowInHand } from './row-in-hand.js';
import { CELL_WORDS, type Cell, cellsOf, ditto, type RowValues, textOf, whatIsWanting } from './row-values.js';

const GRID_CELLS: readonly Cell[] = ['reference', 'words', 'count', 'grade', 'marks', 'source', 'packetDate', 'place'];

/** The row in hand: every cell a field. All of it goes by keys; see the line of keys above the grid. */
export function RowEditor(props: RowInHand) {
  const { values, above, onKey } = props;
  const bodyRef = useRef<HTMLTableSectionElement>(null);
  const cells = cellsOf(values.kind);
  useEffect(() => {
    bodyRef.current?.querySelector<HTMLElement>('select, input')?.focus();
    bodyRef.current?.scrollIntoView({ block: 'nearest' });
  }, []);

  const keyDown = (event: KeyboardEvent<HTMLElement>) => {
    if (event.defaultPrevented || event.nativeEvent.isComposing || isInForm(event.target)) return;
    const cell = cellOf(event.target);
    if (event.key === 'Enter' && !isButton(event.target)) {
      event.preventDefault();
      props.onNext(event.shiftKey ? -1 : 1);
    } else if (event.key === 'Escape') {
      event.preventDefault();
      props.onUndo();
    } else if (event.key === '"' && cell !== null && above !== null && canDitto(event.target, values, cell)) {
      event.preventDefault();
      onKey(ditto(values, above, cell));
    }
  };
  const blur = (event: FocusEvent<HTMLElement>) => {
    if (event.relatedTarget instanceof Node && bodyRef.current?.contains(event.relatedTarget)) return;
    if (document.hasFocus()) props.onLeave();
  };

  const wanting = props.draft !== null && props.draft.command === null ? whatIsWanting(values) : null;
  return (
    <tbody ref={bodyRef} className={styles.now} onKeyDown={keyDown} onBlur={blur} aria-label={`Row ${props.position}, in hand`}>
      <tr>
        <td className={styles.rn}>{props.position}</td>
        <td className={styles.cc} data-label="kind">
          <RowCell cell="kind" values={values} onKey={onKey} />
          {props.row !== null && <Code code={props.row.code} size="row" />}
          {props.row === null && values.code !== '' && <Code code={values.code} size="row" />}
        </td>
        {GRID_CELLS.map((cell) => (
          <td
            key={cell}
            className={classNames(styles[cell], !cells.includes(cell) && styles.absent)}
            data-label={CELL_WORDS[cell]}
          >
            {cells.includes(cell) && <RowCell cell={cell} values={values} onKey={onKey} isWanting={wanting?.cell === cell} />}
            {cell === 'source' && cells.includes('make') && <RowCell cell="make" values={values} onKey={onKey} />}
          </td>
        ))}
        <td className={styles.absent} />
      </tr>
      <RowHint {...props} wanting={wanting?.words ?? null} columns={GRID_CELLS.length + 2} />
    </tbody>
  );
}

function cellOf(target: EventTarget): Cell | null {
  const name = target instanceof HTMLElement ? target.dataset.cell : undefined;
  return name === undefined ? null : (name as Cell);
}

/** A form that is opened within the row has its keys to itself. */
function isInForm(target: EventTarget): boolean {
  return target instanceof HTMLElement && target.closest('form') !== null;
}

function isButton(target: EventTarget): boolean {
  return target instanceof HTMLElement && (target.tagName === 'BUTTON' || target.closest('label[data-file]') !== null);
}

/** Ditto works in an empty cell, in one that is marked whole, and in a list; elsewhere the character is an inch mark. */
function canDitto(target: EventTarget, values: RowValues, cell: Cell): boolean {
  if (target instanceof HTMLSelectElement || textOf(values, cell) === '') return true;
  return target instanceof HTMLInputElement && target.selectionStart === 0 && target.selectionEnd === target.value.length;
}
