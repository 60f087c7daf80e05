import { formatCode, parseCode } from '@corewright/codes/label-code';
import { countAskedFrom, type KeepOpeningRow, type OpeningRow } from '@corewright/contracts/opening-stock';

/** A row in hand at a shelf, as it is keyed. */
export interface RowKeyed {
  readonly id: string;
  /** what the server has of it; null for a new one */
  readonly version: number | null;
  readonly kind: KeepOpeningRow['kind'];
  /** what it is, or the number on it */
  readonly text: string;
  /** the part or the unit type that was chosen for that; null where nobody chose one */
  readonly referenceId: string | null;
  /** what the chosen part is called */
  readonly referenceName: string;
  readonly count: string;
  readonly marks: string;
  readonly ownerName: string;
  readonly note: string;
  /** the label that is on it; empty where it gets the next */
  readonly code: string;
  /** a photograph of it was taken here */
  readonly photographed: boolean;
}

export function newRow(id: string, like: Pick<RowKeyed, 'kind' | 'ownerName'> = { kind: 'lot', ownerName: '' }): RowKeyed {
  return {
    id,
    version: null,
    kind: like.kind,
    text: '',
    referenceId: null,
    referenceName: '',
    count: '',
    marks: '',
    ownerName: like.ownerName,
    note: '',
    code: '',
    photographed: false,
  };
}

export function saysNothing(row: RowKeyed): boolean {
  return row.text.trim() === '' && row.marks.trim() === '' && row.referenceId === null && !row.photographed;
}

/** What must be said or put right before a row can be kept; null where nothing is. */
export function whatIsWrong(row: RowKeyed): { field: 'text' | 'count'; words: string } | null {
  if (saysNothing(row)) return { field: 'text', words: 'Photograph it, or say in a word what it is or which number it bears.' };
  const count = row.count.trim();
  if (row.kind === 'unit' || count === '') return null;
  const label = parseCode(count);
  if (label.ok) return { field: 'count', words: `${formatCode(label.value.code)} is a label and no count. Key how many.` };
  if (!/^\d{1,7}(\.\d{1,4})?$/.test(count) || Number(count) === 0)
    return { field: 'count', words: `“${count}” is no count. Key figures, such as 12; leave it empty for one.` };
  return null;
}

/** Whether the count is so large that it is asked once more. */
export function isManyFor({ kind, count }: Pick<RowKeyed, 'kind' | 'count'>): boolean {
  return kind !== 'unit' && Number(count) >= countAskedFrom;
}

/** What is sent of a row. */
export function bodyOf(row: RowKeyed, placeId: string, jobId: string | null, sure: boolean): KeepOpeningRow {
  const isChosen = row.referenceId !== null;
  return {
    placeId,
    jobId,
    code: row.code === '' ? null : row.code,
    kind: row.kind,
    words: isChosen && row.kind !== 'unsorted' ? row.referenceName : row.text.trim(),
    partId: row.kind === 'lot' ? row.referenceId : null,
    unitTypeId: row.kind === 'unit' ? row.referenceId : null,
    count: row.kind === 'unit' ? '' : row.count.trim(),
    marks: row.kind === 'unsorted' ? '' : row.marks.trim(),
    ownerName: row.ownerName,
    note: row.note.trim(),
    photographed: row.photographed,
    sure,
  };
}

/** A row that is kept, in hand again. */
export function keyedOf(row: OpeningRow): RowKeyed {
  const reference = row.part ?? row.unitType;
  return {
    id: row.id,
    version: row.version,
    kind: row.kind,
    text: row.part?.number ?? row.unitType?.name ?? row.words,
    referenceId: reference?.id ?? null,
    referenceName: row.words,
    count: row.kind === 'unsorted' ? (row.pieceCount?.toString() ?? '') : row.kind === 'unit' ? '' : row.quantity,
    marks: row.marks,
    ownerName: row.owner?.name ?? '',
    note: row.note,
    code: '',
    photographed: row.pictures.length > 0,
  };
}

/** A row that was refused, in hand again: it is keyed anew under an id of its own. */
export function keyedAgain(body: KeepOpeningRow, id: string): RowKeyed {
  return {
    ...newRow(id, body),
    text: body.words,
    referenceId: body.partId ?? body.unitTypeId,
    referenceName: body.words,
    count: body.count,
    marks: body.marks,
    note: body.note,
    code: body.code ?? '',
    photographed: body.photographed,
  };
}

/** "12 of cover plates": for the queue, and for whoever hears what was kept. */
export function sayRow(row: Pick<RowKeyed, 'kind' | 'text' | 'referenceName' | 'count' | 'marks'>): string {
  const what = row.text.trim() || row.referenceName || row.marks.trim() || 'photographed, not named';
  return row.kind === 'lot' && row.count.trim() !== '' ? `${row.count.trim()} of ${what}` : what;
}
