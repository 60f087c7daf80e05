import { type FocusEvent, type KeyboardEvent, useEffect, useRef, useState } from 'react';
import { Code } from '../../ui/Code.js';
import { classNames } from '../../ui/class-names.js';
import styles from './LoadGrid.module.css';
import { RowCell } from './RowCell.js';
import { RowHint } from './RowHint.js';
import type { RowInHand } from './row-in-hand.js';
import { CELL_WORDS, type Cell, cellsOf, ditto, type RowValues, textOf, whatIsWanting } from './row-values.js';
import type { Asking } from './SeveralRows.js';

const GRID_CELLS: readonly Cell[] = ['reference', 'words', 'count', 'grade', 'marks', 'source', 'packetDate', 'place'];

/** The row in hand: every cell a field. All of it goes by keys; see the line of keys above the grid. */
export function RowEditor(props: RowInHand) {
  const { values, onKey } = props;
  const bodyRef = useRef<HTMLTableSectionElement>(null);
  const cells = cellsOf(values.kind);
  const [asking, setAsking] = useState<Asking>(null);
  const [cell, setCell] = useState<Cell>('place');
  const wanting = whatIsWanting(values);
  const ask = (next: Asking) => {
    setAsking(next);
    if (next === null) bodyRef.current?.querySelector<HTMLElement>(`[data-cell="${cell}"]`)?.focus();
  };
  useEffect(() => {
    bodyRef.current?.querySelector<HTMLElement>('select, input')?.focus();
    bodyRef.current?.scrollIntoView({ block: 'nearest' });
  }, []);

  const keyDown = (event: KeyboardEvent<HTMLElement>) => {
    if (event.defaultPrevented || event.nativeEvent.isComposing || isInForm(event.target)) return;
    const act = actOf(event, props, wanting === null, setAsking);
    if (act === null) return;
    event.preventDefault();
    act();
  };
  const blur = (event: FocusEvent<HTMLElement>) => {
    if (event.relatedTarget instanceof Node && bodyRef.current?.contains(event.relatedTarget)) return;
    if (document.hasFocus()) props.onLeave();
  };

  const putInto = ({ id, path }: { readonly id: string; readonly path: string }) => {
    // the button goes away under the focus, which would leave the row
    bodyRef.current?.querySelector<HTMLElement>('[data-cell="place"]')?.focus();
    onKey({ ...values, placeId: id, placeText: path });
  };
  const told = props.draft !== null && props.draft.command === null ? wanting : null;
  const focus = (event: FocusEvent<HTMLElement>) => {
    const focused = cellOf(event.target);
    if (focused !== null && focused !== 'kind') setCell(focused);
  };
  return (
    <tbody
      ref={bodyRef}
      className={styles.now}
      onKeyDown={keyDown}
      onFocus={focus}
      onBlur={blur}
      aria-label={`Row ${props.position}, in hand`}
    >
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
            {cells.includes(cell) && <RowCell cell={cell} values={values} onKey={onKey} isWanting={told?.cell === cell} />}
            {cell === 'source' && cells.includes('make') && <RowCell cell="make" values={values} onKey={onKey} />}
          </td>
        ))}
        <td className={styles.absent} />
      </tr>
      <RowHint
        {...props}
        wanting={told?.words ?? null}
        cell={cells.includes(cell) ? cell : 'words'}
        asking={asking}
        onAsk={ask}
        onPlace={putInto}
        columns={GRID_CELLS.length + 2}
      />
    </tbody>
  );
}

/** What a key does in the row; null where it is the field's own. */
function actOf(
  event: KeyboardEvent<HTMLElement>,
  row: RowInHand,
  isWhole: boolean,
  onAsk: (asking: Asking) => void,
): (() => void) | null {
  const { values, above } = row;
  const cell = cellOf(event.target);
  if (event.key === 'Enter' && event.ctrlKey) return () => (isWhole ? onAsk('alike') : row.onNext(1));
  if (event.key === 'Enter' && !isButton(event.target)) return () => row.onNext(event.shiftKey ? -1 : 1);
  if (event.key === 'ArrowDown' && event.ctrlKey)
    return cell !== null && cell !== 'kind' && row.rowsBelow(cell) > 0 ? () => onAsk('down') : null;
  if (event.key === 'Backspace' && event.altKey) return row.onTakeBack;
  if (event.key === 'Escape') return row.onUndo;
  if (event.key !== '"' || above === null) return null;
  if (event.ctrlKey) return row.onDittoRow;
  return cell !== null && canDitto(event.target, values, cell) ? () => row.onKey(ditto(values, above, cell)) : null;
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
