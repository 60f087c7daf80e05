import type { LoadPage } from '@corewright/contracts/goods-in';
import { useState } from 'react';
import { Button } from '../../ui/Button.js';
import { KeyLine } from '../../ui/Kbd.js';
import { LastActLine } from './LastActLine.js';
import styles from './LoadGrid.module.css';
import { PasteRows } from './PasteRows.js';
import { isTable } from './pasted-rows.js';
import { RowEditor } from './RowEditor.js';
import { RowShown } from './RowShown.js';
import { useLoadRows } from './use-load-rows.js';

const KEYS = [
  { key: 'U L X', does: 'unit, lot, unsorted' },
  { key: 'Tab', does: 'next cell' },
  { key: 'Enter', does: 'next row' },
  { key: '"', does: 'ditto, as the row above' },
  { key: '?', does: 'cannot be read' },
  { key: 'Esc', does: 'undo in this row' },
  { key: 'Ctrl Enter', does: 'several like it' },
  { key: 'Ctrl ↓', does: 'this cell down' },
  { key: 'Alt ⌫', does: 'take back what was done last' },
];

/** The rows of a load. One is in hand, all others read; a further one waits at the end. */
export function LoadGrid({ load }: { readonly load: LoadPage }) {
  const rows = useLoadRows(load);
  const [pasted, setPasted] = useState<string | null>(null);
  return (
    <>
      <KeyLine keys={KEYS} />
      <div
        className={styles.wrap}
        onPaste={(event) => {
          const text = event.clipboardData.getData('text/plain');
          if (!isTable(text)) return;
          event.preventDefault();
          setPasted(text);
        }}
      >
        <table className={styles.load}>
          <caption className="hidden">Rows of load {load.number}</caption>
          <GridHead />
          {rows.shown.map((row) =>
            row.id === rows.inHand ? (
              <RowEditor key={row.id} {...rows.handle(row)} />
            ) : (
              <tbody key={row.id}>
                <RowShown {...row} onOpen={() => rows.open(row.id)} />
              </tbody>
            ),
          )}
        </table>
      </div>
      <div className={styles.further}>
        {!rows.isFurtherInHand && <Button onPress={rows.openFurther}>Key a row</Button>}
        <Button look="plain" onPress={() => setPasted('')}>
          Paste rows from a spreadsheet
        </Button>
        <LastActLine act={rows.lastAct} takenBack={rows.takenBack} />
      </div>
      {pasted !== null && (
        <PasteRows
          text={pasted}
          onRows={(taken) => {
            setPasted(null);
            rows.addAll(`${taken.length === 1 ? '1 row' : `${taken.length} rows`} from a spreadsheet`, taken);
          }}
          onClose={() => setPasted(null)}
        />
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
