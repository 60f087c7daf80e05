import { useState } from 'react';
import { Acts, Button } from '../../ui/Button.js';
import { Form } from '../../ui/Form.js';
import { Kbd } from '../../ui/Kbd.js';
import { TextField } from '../../ui/TextField.js';
import styles from './LoadGrid.module.css';
import type { RowInHand } from './row-in-hand.js';
import { CELL_WORDS, type Cell, textOf, whatIsWanting } from './row-values.js';

/** As many rows as one act begins. */
const ALIKE_MAX = 200;

export type Asking = 'alike' | 'down' | null;

export interface SeveralRowsProps extends RowInHand {
  /** The cell that had the focus last. */
  readonly cell: Cell;
  readonly wanting: string | null;
  readonly asking: Asking;
  readonly onAsk: (asking: Asking) => void;
}

/** From the row in hand to several: rows alike, or one of its cells into the rows below. */
export function SeveralRows(props: SeveralRowsProps) {
  const { cell, values, asking, onAsk } = props;
  const below = props.rowsBelow(cell);
  if (asking === 'alike')
    return (
      <HowMany
        label="Rows like this one"
        question="How many more like this one"
        note={`rows of their own with a code each, without its ${values.kind === 'unsorted' ? 'note' : 'marks and note'}; at the end of the load`}
        act="Add them"
        first=""
        most={ALIKE_MAX}
        onCount={props.onAlike}
        onClose={() => onAsk(null)}
      />
    );
  if (asking === 'down')
    return (
      <HowMany
        label="This cell into the rows below"
        question={`Into how many rows below: ${CELL_WORDS[cell]} “${textOf(values, cell)}”`}
        note={`of ${below} below that have this cell; what stands there is written over`}
        act="Write it down the column"
        first={below.toString()}
        most={below}
        onCount={(count) => props.onFillDown(cell, count)}
        onClose={() => onAsk(null)}
      />
    );
  return (
    <span className={styles.choices}>
      {whatIsWanting(values) === null && (
        <Button look="plain" onPress={() => onAsk('alike')}>
          Several like this <Kbd>Ctrl Enter</Kbd>
        </Button>
      )}
      {below > 0 && (
        <Button look="plain" onPress={() => onAsk('down')}>
          {CELL_WORDS[cell]} into the rows below <Kbd>Ctrl ↓</Kbd>
        </Button>
      )}
      {props.above !== null && (
        <Button look="plain" onPress={props.onDittoRow}>
          As the row above <Kbd>Ctrl "</Kbd>
        </Button>
      )}
    </span>
  );
}

function HowMany(props: {
  readonly label: string;
  readonly question: string;
  readonly note: string;
  readonly act: string;
  readonly first: string;
  readonly most: number;
  readonly onCount: (count: number) => void;
  readonly onClose: () => void;
}) {
  const [keyed, setKeyed] = useState(props.first);
  const [wasTried, setWasTried] = useState(false);
  const count = /^\d{1,4}$/.test(keyed.trim()) ? Number(keyed) : 0;
  const isRight = count >= 1 && count <= props.most;
  const submit = () => {
    setWasTried(true);
    if (!isRight) return;
    props.onCount(count);
    props.onClose();
  };
  return (
    <div className={styles.strike}>
      <Form label={props.label} onSubmit={submit}>
        <TextField
          label={props.question}
          value={keyed}
          onChange={setKeyed}
          inputMode="numeric"
          note={props.note}
          error={wasTried && !isRight ? `Key a number from 1 to ${props.most}.` : null}
          autoFocus
          maxLength={4}
        />
        <Acts>
          <Button look="main" type="submit">
            {props.act}
          </Button>
          <Button look="plain" onPress={props.onClose}>
            Leave it
          </Button>
        </Acts>
      </Form>
    </div>
  );
}
