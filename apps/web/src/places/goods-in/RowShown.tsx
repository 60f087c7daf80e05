import type { LoadRow } from '@corewright/contracts/goods-in';
import { useState } from 'react';
import { Code } from '../../ui/Code.js';
import { classNames } from '../../ui/class-names.js';
import { Go } from '../../ui/Go.js';
import { Marks } from '../../ui/Marks.js';
import { PhotographViewer } from '../photographs/PhotographViewer.js';
import { countPhotographs } from '../photographs/say-photographs.js';
import styles from './LoadGrid.module.css';
import { RowWarnings } from './RowHint.js';
import type { RowDraft } from './row-draft.js';
import type { RowValues } from './row-values.js';

export interface RowShownProps {
  readonly position: number;
  readonly row: LoadRow | null;
  readonly draft: RowDraft | null;
  readonly values: RowValues;
  readonly onOpen: () => void;
}

/** A row as it reads when nobody is keying in it. Its number opens it for keying. */
export function RowShown({ position, row, draft, values, onOpen }: RowShownProps) {
  const isStruck = row?.struckOut === true;
  return (
    <tr className={classNames(isStruck && styles.struck)}>
      <td className={styles.rn}>
        {isStruck ? (
          position
        ) : (
          <button type="button" className={styles.open} onClick={onOpen} aria-label={`Change row ${position}`}>
            {position}
          </button>
        )}
      </td>
      <td className={styles.cc}>{row === null ? <CodeToCome values={values} /> : <CodeLink row={row} />}</td>
      <td className={styles.reference}>{referenceOf(values)}</td>
      <td className={styles.words}>
        {row?.name ?? values.words}
        <UnsentNote row={row} draft={draft} />
        {row !== null && !isStruck && <RowWarnings warnings={row.warnings} />}
      </td>
      <td className={styles.count}>{values.kind === 'unit' ? '1' : values.count}</td>
      <td className={styles.grade}>{values.kind === 'unit' ? <b className={styles.letter}>{values.grade}</b> : values.grade}</td>
      <td className={styles.marks}>{values.marks !== '' && <Marks text={values.marks} />}</td>
      <td className={styles.source}>{sourceOf(values)}</td>
      <td className={styles.packetDate}>
        {values.kind === 'lot' && (values.packetDate === '' ? <span className="quiet">unknown</span> : values.packetDate)}
      </td>
      <td className={styles.place}>{shortPlace(values.placeText)}</td>
      <td className={styles.photo}>
        {row === null || row.pictures.length === 0 ? <span className="quiet">–</span> : <PictureCount row={row} />}
      </td>
    </tr>
  );
}

function CodeToCome({ values }: { readonly values: RowValues }) {
  return values.code === '' ? <span className="quiet">no code yet</span> : <Code code={values.code} size="row" />;
}

function CodeLink({ row }: { readonly row: LoadRow }) {
  return (
    <Go href={`/stores/things/${row.id}`} className={styles.codeLink}>
      <Code code={row.code} size="row" />
    </Go>
  );
}

function PictureCount({ row }: { readonly row: LoadRow }) {
  const [openId, setOpenId] = useState<string | null>(null);
  return (
    <>
      <button
        type="button"
        className={styles.open}
        aria-label={`${countPhotographs(row.pictures.length)} of row ${row.position}`}
        onClick={() => setOpenId(row.pictures[0]?.id ?? null)}
      >
        {row.pictures.length}
      </button>
      {openId !== null && (
        <PhotographViewer pictures={row.pictures} subject={`row ${row.position}`} openId={openId} onOpen={setOpenId} />
      )}
    </>
  );
}

function UnsentNote({ row, draft }: { readonly row: LoadRow | null; readonly draft: RowDraft | null }) {
  if (row?.struckOut === true) return <span className={styles.note}>struck out, its code is void</span>;
  if (draft === null) return null;
  if (draft.problem !== null)
    return <span className={styles.noteBad}>Not saved: open the row and see why. It is kept here.</span>;
  return (
    <span className={styles.note}>
      {draft.command === null && !draft.awaitsLookup
        ? 'Not finished; kept on this device.'
        : 'On its way; kept on this device until the server answers.'}
    </span>
  );
}

function referenceOf(values: RowValues) {
  if (values.referenceText !== '')
    return values.kind === 'lot' ? <span className="pn">{values.referenceText}</span> : values.referenceText;
  if (values.kind === 'unsorted') return null;
  return <span className={styles.unnamed}>{values.kind === 'unit' ? 'not yet identified' : 'not named yet'}</span>;
}

function sourceOf(values: RowValues): string {
  if (values.kind !== 'lot') return '';
  const maker = values.makerName !== '' ? values.makerName : values.make === 'unknown' ? '' : values.make;
  return [values.source === 'unknown' ? 'source unknown' : values.source, maker].filter((word) => word !== '').join(', ');
}

/** The last two steps of a place's path: enough to walk to. */
function shortPlace(path: string): string {
  return path
    .split(/\s*[/›,]\s*/)
    .slice(-2)
    .join(', ');
}
