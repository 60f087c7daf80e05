import type { LoadPage, LoadRow } from '@corewright/contracts/goods-in';
import { useState } from 'react';
import { newKey } from '../../api/uuid.js';
import { useScanTaker } from '../../scan/scanning.js';
import { Button } from '../../ui/Button.js';
import { KeyLine } from '../../ui/Kbd.js';
import { dayOf } from '../../ui/say-when.js';
import styles from './LoadGrid.module.css';
import { RowEditor } from './RowEditor.js';
import { RowShown } from './RowShown.js';
import { valuesOf } from './row-contract.js';
import type { RowDraft } from './row-draft.js';
import { isBlank, nextRowAfter, type RowValues, whatIsWanting, withKind } from './row-values.js';
import { useBlankLabels } from './use-blank-labels.js';
import { useDraftDesk } from './use-draft-desk.js';

const KEYS = [
  { key: 'U L X', does: 'unit, lot, unsorted' },
  { key: 'Tab', does: 'next cell' },
  { key: 'Enter', does: 'next row' },
  { key: '"', does: 'ditto, as the row above' },
  { key: '?', does: 'cannot be read' },
  { key: 'Esc', does: 'undo in this row' },
];

/** A row of the grid: what the server has, what was keyed since, or both. */
interface GridRow {
  readonly id: string;
  readonly position: number;
  readonly row: LoadRow | null;
  readonly draft: RowDraft | null;
  readonly values: RowValues;
}

/** The rows of a load. One is in hand, all others read; a further one waits at the end. */
export function LoadGrid({ load }: { readonly load: LoadPage }) {
  const [inHand, setInHand] = useState<string | null>(null);
  const [fresh, setFresh] = useState(newKey);
  const { desk, drafts } = useDraftDesk(load.id, inHand);
  const rows = mergeRows(load.rows, drafts);
  const position = (rows.at(-1)?.position ?? 0) + 1;
  const last = rows.findLast((row) => row.row?.struckOut !== true);
  const newRow: GridRow = { id: fresh, position, row: null, draft: null, values: nextRowAfter(last?.values) };
  const all = rows.some((row) => row.id === fresh) ? rows : [...rows, newRow];

  const beginRow = () => {
    const id = newKey();
    setFresh(id);
    setInHand(id);
  };
  useScanTaker(
    useBlankLabels(rows, (id, label) => {
      if (inHand !== null) void desk.save(inHand);
      if (id === null) {
        const begun = newKey();
        desk.key(begun, { ...withKind(newRow.values, label.kind), code: label.code }, { position, base: null });
        setInHand(begun);
      } else setInHand(id);
    }),
  );
  const go = (from: GridRow, step: 1 | -1) => {
    void desk.save(from.id);
    // a row that lacks something stays in hand and says what; a place still has to be looked up
    const wanting = desk.find(from.id) === undefined ? null : whatIsWanting(from.values);
    if (step === 1 && wanting !== null && wanting.cell !== 'place' && !isBlank(from.values)) return;
    const open = all.filter((row) => row.row?.struckOut !== true);
    const next = open[open.findIndex((row) => row.id === from.id) + step];
    if (next !== undefined) setInHand(next.id);
    else if (step === 1 && from.id === fresh && desk.find(from.id) === undefined && from.row === null) setInHand(from.id);
    else if (step === 1) beginRow();
  };

  return (
    <>
      <KeyLine keys={KEYS} />
      <div className={styles.wrap}>
        <table className={styles.load}>
          <caption className="hidden">Rows of load {load.number}</caption>
          <GridHead />
          {all.map((row, index) =>
            row.id === inHand ? (
              <RowEditor
                key={row.id}
                {...row}
                loadId={load.id}
                above={all[index - 1]?.values ?? null}
                today={dayOf(new Date())}
                onKey={(values) =>
                  desk.key(row.id, values, {
                    position: row.position,
                    base: row.row === null ? null : { version: row.row.version, values: valuesOf(row.row) },
                  })
                }
                onNext={(step) => go(row, step)}
                onUndo={() => desk.undo(row.id)}
                onLeave={() => void desk.save(row.id)}
                onSettle={(choice) => desk.settle(row.id, choice)}
              />
            ) : row === newRow ? null : (
              <tbody key={row.id}>
                <RowShown {...row} onOpen={() => setInHand(row.id)} />
              </tbody>
            ),
          )}
        </table>
      </div>
      {inHand !== newRow.id && (
        <p className={styles.further}>
          <Button onPress={() => (rows.some((row) => row.id === fresh) ? beginRow() : setInHand(fresh))}>Key a row</Button>
        </p>
      )}
    </>
  );
}

function GridHead() {
  return (
    <>
      <colgroup>
        {['rn', 'cc', 'reference', 'words', 'count', 'grade', 'marks', 'source', 'packetDate', 'place', 'photo'].map((name) => (
          <col key={name} className={styles[`w-${name}`]} />
        ))}
      </colgroup>
      <thead>
        <tr>
          <th scope="col">
            <span className="hidden">row</span>
          </th>
          <th scope="col">code</th>
          <th scope="col">type or number</th>
          <th scope="col">what it is</th>
          <th scope="col" className="num">
            count
          </th>
          <th scope="col">grade, state</th>
          <th scope="col">marks</th>
          <th scope="col">source, make</th>
          <th scope="col">packet date</th>
          <th scope="col">place</th>
          <th scope="col" className="num">
            photo
          </th>
        </tr>
      </thead>
    </>
  );
}

function mergeRows(saved: readonly LoadRow[], drafts: readonly RowDraft[]): readonly GridRow[] {
  const rows = new Map<string, GridRow>();
  for (const row of saved) rows.set(row.id, { id: row.id, position: row.position, row, draft: null, values: valuesOf(row) });
  for (const draft of drafts) {
    const known = rows.get(draft.id);
    rows.set(draft.id, {
      id: draft.id,
      position: known?.position ?? draft.position,
      row: known?.row ?? null,
      draft,
      values: draft.values,
    });
  }
  return [...rows.values()].toSorted((one, other) => one.position - other.position);
}
