import { useMemo, useState } from 'react';
import { Acts, Button } from '../../ui/Button.js';
import { Form } from '../../ui/Form.js';
import { SelectField } from '../../ui/SelectField.js';
import { Sheet } from '../../ui/Sheet.js';
import { Table } from '../../ui/Table.js';
import { TextField } from '../../ui/TextField.js';
import styles from './LoadGrid.module.css';
import {
  type ColumnCell,
  cellsByName,
  PASTED_ROWS_MAX,
  type PastedFault,
  type PastedTable,
  readPasted,
  rowsOf,
} from './pasted-rows.js';
import { CELL_WORDS, type Cell, cellsOf, type RowKind, type RowValues, textOf } from './row-values.js';

const KIND_CHOICES: readonly { readonly value: RowKind; readonly label: string }[] = [
  { value: 'lot', label: 'a lot of parts' },
  { value: 'unit', label: 'a unit' },
  { value: 'unsorted', label: 'something unsorted' },
];
const SHOWN_ROWS = 6;

/** Rows that were copied out of a spreadsheet, looked over before they are taken in. */
export function PasteRows({
  text,
  onRows,
  onClose,
}: {
  readonly text: string;
  readonly onRows: (rows: readonly RowValues[]) => void;
  readonly onClose: () => void;
}) {
  const [pasted, setPasted] = useState(text);
  return (
    <Sheet title="Rows from a spreadsheet" label="Rows from a spreadsheet" onClose={onClose}>
      <div className={styles.paste}>
        {text === '' && (
          <TextField
            label="Paste the rows here"
            value={pasted}
            onChange={setPasted}
            lines={5}
            autoFocus
            note="as they were copied; a first row with the names of the columns is known by itself"
          />
        )}
        <PastedRows key={pasted} text={pasted} onRows={onRows} onClose={onClose} />
      </div>
    </Sheet>
  );
}

function PastedRows({
  text,
  onRows,
  onClose,
}: {
  readonly text: string;
  readonly onRows: (rows: readonly RowValues[]) => void;
  readonly onClose: () => void;
}) {
  const table = useMemo(() => readPasted(text), [text]);
  const [columns, setColumns] = useState(() => cellsByName(table));
  const [kind, setKind] = useState<RowKind>('lot');
  const { rows, faults } = useMemo(() => rowsOf(table, columns, kind), [table, columns, kind]);
  if (text.trim() === '') return null;
  const isTooLong = rows.length > PASTED_ROWS_MAX;
  const canTake = rows.length > 0 && !isTooLong;
  return (
    <Form
      label="What the rows are"
      onSubmit={() => {
        if (canTake) onRows(rows);
      }}
    >
      {!columns.includes('kind') && <SelectField label="Each row is" value={kind} choices={KIND_CHOICES} onChange={setKind} />}
      <div className={styles.columns}>
        {columns.map((cell, index) => (
          <SelectField
            key={index}
            label={`Column ${index + 1}${nameOf(table, index)}`}
            value={cell ?? 'left out'}
            choices={choicesFor(kind, columns)}
            note={table.rows
              .slice(0, 3)
              .map((cells) => cells[index] ?? '')
              .filter((shown) => shown !== '')
              .join('; ')}
            onChange={(chosen) => setColumns(columns.with(index, chosen === 'left out' ? null : chosen))}
          />
        ))}
      </div>
      <p role="status">{countInWords(rows.length, faults.length, isTooLong)}</p>
      <Faults faults={faults} />
      {rows.length > 0 && <FirstRows rows={rows} />}
      <Acts>
        <Button look="main" type="submit" isDisabled={!canTake}>
          {rows.length === 1 ? 'Take 1 row in' : `Take ${rows.length} rows in`}
        </Button>
        <Button look="plain" onPress={onClose}>
          Leave it
        </Button>
      </Acts>
    </Form>
  );
}

function choicesFor(kind: RowKind, columns: readonly ColumnCell[]) {
  const cells = columns.includes('kind') ? cellsOf('lot') : cellsOf(kind);
  return [
    { value: 'left out' as const, label: 'left out' },
    ...cells.map((cell): { value: Cell | 'left out'; label: string } => ({ value: cell, label: CELL_WORDS[cell] })),
  ];
}

function nameOf(table: PastedTable, index: number): string {
  const name = table.head?.[index] ?? '';
  return name === '' ? '' : `, “${name}”`;
}

function countInWords(rows: number, faults: number, isTooLong: boolean): string {
  if (isTooLong)
    return `${rows} rows are too many to look over: take ${PASTED_ROWS_MAX} at a time, or import them as a file in Settings.`;
  if (rows === 0 && faults === 0) return 'No row was found in it.';
  const left = faults === 0 ? '' : ` ${faults} ${faults === 1 ? 'is' : 'are'} left out, and why stands below.`;
  return `${rows === 1 ? '1 row' : `${rows} rows`} can be taken in.${left}`;
}

function Faults({ faults }: { readonly faults: readonly PastedFault[] }) {
  if (faults.length === 0) return null;
  return (
    <ul className={styles.faults}>
      {faults.slice(0, 12).map((fault) => (
        <li key={fault.line}>
          Row {fault.line}: {fault.words}
        </li>
      ))}
      {faults.length > 12 && <li>and {faults.length - 12} more</li>}
    </ul>
  );
}

function FirstRows({ rows }: { readonly rows: readonly RowValues[] }) {
  const shown = rows.slice(0, SHOWN_ROWS).map((values, index) => ({ values, index }));
  const cells = (Object.keys(CELL_WORDS) as Cell[]).filter(
    (cell) => cell === 'kind' || shown.some(({ values }) => cellsOf(values.kind).includes(cell) && textOf(values, cell) !== ''),
  );
  return (
    <Table
      caption="The first rows as they would be taken in"
      rows={shown}
      rowKey={({ index }) => index.toString()}
      columns={cells.map((cell) => ({
        key: cell,
        head: CELL_WORDS[cell],
        cell: (row: { readonly values: RowValues; readonly index: number }) => textOf(row.values, cell),
      }))}
    />
  );
}
