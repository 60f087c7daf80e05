import { describePacketDate, readPacketDate } from '@corewright/quantities/packet-date';
import { Button } from '../../ui/Button.js';
import { Code } from '../../ui/Code.js';
import { Kbd } from '../../ui/Kbd.js';
import { Photographs } from '../photographs/Photographs.js';
import { TakePhotographs } from '../photographs/TakePhotographs.js';
import { AlikeLine } from '../stores/AlikeLine.js';
import styles from './LoadGrid.module.css';
import { RowCell } from './RowCell.js';
import type { RowDraft } from './row-draft.js';
import type { RowInHand } from './row-in-hand.js';
import { CELL_WORDS, cellsOf, differences, type RowValues } from './row-values.js';
import { SeveralRows, type SeveralRowsProps } from './SeveralRows.js';
import { StrikeOut } from './StrikeOut.js';

export interface RowHintProps extends SeveralRowsProps {
  readonly columns: number;
  /** puts this place into the row */
  readonly onPlace: (place: { readonly id: string; readonly path: string }) => void;
}

/** What stands under the row in hand: what the packet date can mean, the seldom cells, the photograph, and whatever stands in the way. */
export function RowHint(props: RowHintProps) {
  const { values, onKey, draft } = props;
  const seldom = cellsOf(values.kind).filter(
    (cell) => cell === 'packetCondition' || cell === 'maker' || cell === 'owner' || cell === 'note',
  );
  return (
    <tr className={styles.hintrow}>
      <td />
      <td colSpan={props.columns}>
        <p id="row-hint" className={styles.hint} aria-live="polite">
          {props.row === null && values.code !== '' && <LabelHint values={values} onKey={onKey} />}
          {values.kind === 'lot' && <PacketHint values={values} row={props.row} today={props.today} />}{' '}
          {props.wanting !== null && <b className={styles.wants}>{props.wanting}</b>} <SendingNote draft={draft} />
        </p>
        <div className={styles.seldom}>
          {seldom.map((cell) => (
            <div key={cell} className={cell === 'note' ? styles.wide : undefined}>
              <span aria-hidden="true">{CELL_WORDS[cell]}</span>
              <RowCell cell={cell} values={values} onKey={onKey} />
            </div>
          ))}
          <TakePhotographs subjectId={props.id} taken={props.row?.pictures.length ?? 0} />
          <Button onPress={() => props.onNext(1)}>
            Save, next row <Kbd>Enter</Kbd>
          </Button>
        </div>
        {/* after the cells, so that Tab goes through them as it always does */}
        <LikeRow {...props} />
        <SeveralRows {...props} />
        <Photographs pictures={props.row?.pictures ?? []} subject={`row ${props.position}`} subjectIds={[props.id]} />
        {props.row !== null && <RowWarnings warnings={props.row.warnings.filter((warning) => warning.kind !== 'storage-life')} />}
        {props.row !== null && <StrikeOut loadId={props.loadId} row={props.row} />}
        <RowTrouble {...props} />
      </td>
    </tr>
  );
}

/** Once the row says which part or type it is: where the like of it lie. */
function LikeRow({ id, values, onPlace }: Pick<RowHintProps, 'id' | 'values' | 'onPlace'>) {
  const { kind, referenceId, placeId } = values;
  if (referenceId === null || kind === 'unsorted') return null;
  return (
    <AlikeLine
      sought={{ of: kind === 'unit' ? 'unit-types' : 'parts', id: referenceId, besides: id }}
      className={styles.alike}
      placeId={placeId}
      onPlace={onPlace}
    />
  );
}

function LabelHint({ values, onKey }: Pick<RowInHand, 'values' | 'onKey'>) {
  return (
    <>
      It bears the blank label <Code code={values.code} />.{' '}
      <Button look="plain" onPress={() => onKey({ ...values, code: '' })}>
        Not that label
      </Button>{' '}
    </>
  );
}

function PacketHint({
  values,
  row,
  today,
}: {
  readonly values: RowValues;
  readonly row: RowInHand['row'];
  readonly today: string;
}) {
  if (values.packetDate.trim() === '')
    return <span className="quiet">No packet date keyed: kept as unknown. Rubber without a date counts as past its life.</span>;
  const read = readPacketDate(values.packetDate, { material: 'other', today });
  if (!read.ok) return <b className={styles.wants}>{read.error.sentence}</b>;
  const asRubber = readPacketDate(values.packetDate, { material: 'rubber', today });
  const plain = describePacketDate(read.value);
  const rubber = asRubber.ok ? describePacketDate(asRubber.value) : plain;
  const life = row !== null && row.packet?.asRead === values.packetDate.trim() ? row.storageLife : null;
  if (life !== null && life.state !== 'no limit') {
    return (
      <span>
        <b>{values.packetDate.trim()}</b>, kept as read. {life.sentence}
      </span>
    );
  }
  return (
    <span>
      <b>{values.packetDate.trim()}</b>, kept as read: {plain.replace(`${values.packetDate.trim()}: `, 'any day from ')}
      {rubber !== plain && <>; on rubber, {rubber}</>}. {life?.sentence}
    </span>
  );
}

function SendingNote({ draft }: { readonly draft: RowDraft | null }) {
  if (draft === null || draft.command === null) return null;
  return <span className="quiet">On its way to the server; kept on this device until it answers.</span>;
}

function RowTrouble({ draft, onSettle }: RowHintProps) {
  if (draft?.problem?.kind === 'refused') {
    return (
      <p className={styles.trouble} role="alert">
        <b>{draft.problem.title}</b> {draft.problem.detail} What you keyed is kept.
      </p>
    );
  }
  if (draft?.problem?.kind !== 'conflict') return null;
  return (
    <div className={styles.trouble} role="alert">
      <p>
        <b>Somebody else has changed this row meanwhile.</b> Both readings are kept until you choose.
      </p>
      <ul>
        {differences(draft.values, draft.problem.theirs).map((difference) => (
          <li key={difference.cell}>
            {CELL_WORDS[difference.cell]}: yours <b>{difference.mine === '' ? 'empty' : difference.mine}</b>, theirs{' '}
            <b>{difference.theirs === '' ? 'empty' : difference.theirs}</b>
          </li>
        ))}
      </ul>
      <span className={styles.choices}>
        <Button onPress={() => onSettle('mine')}>Keep mine</Button>
        <Button onPress={() => onSettle('theirs')}>Take theirs</Button>
      </span>
    </div>
  );
}

/** The duplicate mark, the storage life and the job that wants it, as the server has found them. */
export function RowWarnings({
  warnings,
}: {
  readonly warnings: readonly { kind: string; words: string; other: { code: string } | null }[];
}) {
  return (
    <>
      {warnings.map((warning) => (
        <span key={`${warning.kind}${warning.words}`} className={warning.kind === 'storage-life' ? styles.noteBad : styles.note}>
          {warning.words}{' '}
          {warning.other !== null && !warning.words.replaceAll(' ', '').includes(warning.other.code) && (
            <Code code={warning.other.code} />
          )}
        </span>
      ))}
    </>
  );
}
