import type { LoadPage } from '@corewright/contracts/goods-in';
import { useState } from 'react';
import { newKey } from '../../api/uuid.js';
import { useScanTaker } from '../../scan/scanning.js';
import { dayOf } from '../../ui/say-when.js';
import type { RowToKey } from './draft-desk.js';
import { asNewRows, baseOf, filledDown, type GridRow, mergeRows, moreLike, rowsBelowWith } from './grid-rows.js';
import type { RowInHand } from './row-in-hand.js';
import { CELL_WORDS, dittoRow, isBlank, nextRowAfter, type RowValues, whatIsWanting, withKind } from './row-values.js';
import { useBlankLabels } from './use-blank-labels.js';
import { useDraftDesk } from './use-draft-desk.js';
import { useRowActs } from './use-row-acts.js';

/** The rows of a load as one person has them before them: which is in hand, which waits at the end, and all that can be done with them. */
export function useLoadRows(load: LoadPage) {
  const [inHand, setInHand] = useState<string | null>(null);
  const [fresh, setFresh] = useState(newKey);
  const [takenBack, setTakenBack] = useState<string | null>(null);
  const { desk, drafts, acts, forgetAct } = useDraftDesk(load.id, inHand);
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
  const lastAct = useRowActs({
    load,
    desk,
    drafts,
    acts,
    onTakenBack: (act) => {
      forgetAct(act);
      setTakenBack(act.words);
      if (act.rows.some((row) => row.id === inHand && row.before === null)) beginRow();
    },
  });
  const save = (id: string) => void desk.save(id);
  const saveAll = (words: string, several: readonly RowToKey[], from?: GridRow) => {
    setTakenBack(null);
    void desk.saveAll(words, several, from?.id);
  };
  useScanTaker(
    useBlankLabels(rows, (id, label) => {
      if (inHand !== null) save(inHand);
      if (id === null) {
        const begun = newKey();
        desk.key(begun, { ...withKind(newRow.values, label.kind), code: label.code }, { position, base: null });
        setInHand(begun);
      } else setInHand(id);
    }),
  );
  const go = (from: GridRow, step: 1 | -1) => {
    save(from.id);
    // a row that lacks something stays in hand and says what; a place still has to be looked up
    const wanting = desk.find(from.id) === undefined ? null : whatIsWanting(from.values);
    if (step === 1 && wanting !== null && wanting.cell !== 'place' && !isBlank(from.values)) return;
    const open = all.filter((row) => row.row?.struckOut !== true);
    const next = open[open.findIndex((row) => row.id === from.id) + step];
    if (next !== undefined) setInHand(next.id);
    else if (step === 1 && from.id === fresh && desk.find(from.id) === undefined && from.row === null) setInHand(from.id);
    else if (step === 1) beginRow();
  };

  /** A row in hand with all that can be done with it. */
  const handle = (row: GridRow): RowInHand => {
    const above = all[all.indexOf(row) - 1]?.values ?? null;
    const key = (values: RowValues) => desk.key(row.id, values, { position: row.position, base: baseOf(row) });
    return {
      ...row,
      loadId: load.id,
      above,
      today: dayOf(new Date()),
      onKey: key,
      onNext: (step) => go(row, step),
      onUndo: () => desk.undo(row.id),
      onLeave: () => save(row.id),
      onSettle: (choice) => desk.settle(row.id, choice),
      onDittoRow: () => {
        if (above !== null) key({ ...dittoRow(above), code: row.values.code });
      },
      rowsBelow: (cell) => rowsBelowWith(rows, row, cell).length,
      onAlike: (count) => saveAll(`${count} more like row ${row.position}`, moreLike(row.values, count, position, newKey), row),
      onFillDown: (cell, count) => {
        const below = count === 1 ? 'the row' : `${count} rows`;
        saveAll(`${CELL_WORDS[cell]} of row ${row.position} into ${below} below`, filledDown(rows, row, cell, count), row);
      },
      onTakeBack: lastAct.takeBack,
    };
  };

  return {
    /** Those that are there already, and the further one where it is in hand. */
    shown: all.filter((row) => row !== newRow || row.id === inHand),
    inHand,
    open: setInHand,
    /** Puts the row that waits at the end in hand, or one after it. */
    openFurther: () => (all === rows ? beginRow() : setInHand(fresh)),
    isFurtherInHand: inHand === newRow.id,
    handle,
    /** Takes in rows that were looked over elsewhere. */
    addAll: (words: string, values: readonly RowValues[]) => saveAll(words, asNewRows(values, position, newKey)),
    lastAct,
    takenBack,
  };
}
