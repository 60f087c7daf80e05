import type { LoadRow, RowInput } from '@corewright/contracts/goods-in';
import { blankRow, type RowValues } from './row-values.js';

/** A keyed row as the server takes it. A number that nobody knows stays with the words, so that nothing keyed is lost. */
export function rowInputOf(values: RowValues, position: number): RowInput {
  const common = {
    position,
    code: values.code === '' ? null : values.code,
    ownerName: values.ownerName.trim(),
    placeId: values.placeId,
    note: values.note.trim(),
  };
  const words =
    values.referenceId === null
      ? [values.referenceText.trim(), values.words.trim()].filter((text) => text !== '').join(', ')
      : values.words.trim();
  switch (values.kind) {
    case 'unit':
      return {
        kind: 'unit',
        ...common,
        ownerName: common.ownerName,
        unitTypeId: values.referenceId,
        words,
        grade: values.grade.trim(),
        marks: values.marks.trim(),
      };
    case 'lot':
      return {
        kind: 'lot',
        ...common,
        partId: values.referenceId,
        words,
        quantity: values.count.trim().replace(',', '.'),
        source: values.source,
        make: values.make,
        makerName: values.makerName.trim(),
        marks: values.marks.trim(),
        condition: values.grade.trim(),
        packetRead: values.packetDate.trim(),
        packetCondition: values.packetCondition,
      };
    case 'unsorted':
      return { kind: 'unsorted', ...common, words: values.words.trim(), pieceCount: piecesOf(values.count) };
  }
}

/** A row of the server as a person would have keyed it. */
export function valuesOf(row: LoadRow): RowValues {
  const reference =
    row.kind === 'unit'
      ? { id: row.unitType?.id ?? null, text: row.unitType?.name ?? '' }
      : { id: row.part?.id ?? null, text: row.part?.number ?? '' };
  const blank = blankRow(row.kind);
  return {
    ...blank,
    referenceId: reference.id,
    referenceText: reference.text,
    words: row.words,
    count: row.kind === 'unsorted' ? (row.pieceCount?.toString() ?? '') : row.kind === 'lot' ? row.quantity : '',
    grade: row.kind === 'lot' ? row.condition : row.grade,
    marks: row.marks,
    source: row.source ?? blank.source,
    make: row.make ?? blank.make,
    makerName: row.maker ?? '',
    packetDate: row.packet?.asRead ?? '',
    packetCondition: row.packetCondition ?? 'none',
    placeId: row.place?.id ?? null,
    placeText: row.place?.path ?? '',
    ownerName: row.owner?.name ?? '',
    note: row.note,
  };
}

function piecesOf(count: string): number | null {
  const pieces = Number.parseInt(count, 10);
  return Number.isSafeInteger(pieces) && pieces > 0 ? pieces : null;
}
