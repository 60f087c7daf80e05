import type { Make, PacketCondition, Source } from '@corewright/contracts/base';

/** What a person keys into one row of a load: a unit, a lot or something unsorted. Everything as keyed, quantities included. */
export type RowKind = 'unit' | 'lot' | 'unsorted';

export interface RowValues {
  readonly kind: RowKind;
  /** The unit type or the part that was chosen; null while nobody has named it. */
  readonly referenceId: string | null;
  /** What stands in the cell for it: the type's name or the part number. */
  readonly referenceText: string;
  /** What it is, in words. */
  readonly words: string;
  /** How many, as an exact decimal; pieces of something unsorted, about. */
  readonly count: string;
  /** Grade of a core, or condition of a part. */
  readonly grade: string;
  /** What is stamped or cast on it; `?` stands for what cannot be read and stays. */
  readonly marks: string;
  readonly source: Source;
  readonly make: Make;
  /** Who made it, as on the packet. */
  readonly makerName: string;
  /** The packet date as it was read. */
  readonly packetDate: string;
  readonly packetCondition: PacketCondition;
  readonly placeId: string | null;
  readonly placeText: string;
  /** Empty is the workshop itself. */
  readonly ownerName: string;
  readonly note: string;
  /** The code of the blank label that is on it, where it was scanned before the row was kept; else empty. */
  readonly code: string;
}

export type Cell =
  | 'kind'
  | 'reference'
  | 'words'
  | 'count'
  | 'grade'
  | 'marks'
  | 'source'
  | 'make'
  | 'maker'
  | 'packetDate'
  | 'packetCondition'
  | 'place'
  | 'owner'
  | 'note';

export const CELL_WORDS: Readonly<Record<Cell, string>> = {
  kind: 'kind',
  reference: 'type or number',
  words: 'what it is',
  count: 'count',
  grade: 'grade, state',
  marks: 'marks',
  source: 'source',
  make: 'make',
  maker: 'maker',
  packetDate: 'packet date',
  packetCondition: 'packet',
  place: 'place',
  owner: 'owner',
  note: 'note',
};

/** The cells of each kind, in the order in which Tab goes through them. */
const CELLS: Readonly<Record<RowKind, readonly Cell[]>> = {
  unit: ['kind', 'reference', 'words', 'grade', 'marks', 'place', 'owner', 'note'],
  lot: [
    'kind',
    'reference',
    'words',
    'count',
    'grade',
    'marks',
    'source',
    'make',
    'packetDate',
    'place',
    'packetCondition',
    'maker',
    'owner',
    'note',
  ],
  unsorted: ['kind', 'words', 'count', 'place', 'note'],
};

/** The cells that a row of this kind has. */
export function cellsOf(kind: RowKind): readonly Cell[] {
  return CELLS[kind];
}

/** An empty row of a kind. */
export function blankRow(kind: RowKind): RowValues {
  return {
    kind,
    referenceId: null,
    referenceText: '',
    words: '',
    count: kind === 'lot' ? '1' : '',
    grade: '',
    marks: '',
    source: 'bought used',
    make: 'unknown',
    makerName: '',
    packetDate: '',
    packetCondition: 'none',
    placeId: null,
    placeText: '',
    ownerName: '',
    note: '',
    code: '',
  };
}

/** The next row is most often like the last: the same kind, source and place, as one bag follows another out of one box. */
export function nextRowAfter(last: RowValues | undefined): RowValues {
  if (last === undefined) return blankRow('unit');
  return {
    ...blankRow(last.kind),
    source: last.source,
    make: last.make,
    packetCondition: last.packetCondition,
    placeId: last.placeId,
    placeText: last.placeText,
    ownerName: last.ownerName,
  };
}

/** A row after its kind has been changed: what both kinds have stays, what the new one lacks goes, its label too: a code says its kind. */
export function withKind(values: RowValues, kind: RowKind): RowValues {
  if (values.kind === kind) return values;
  const fresh = blankRow(kind);
  return {
    ...fresh,
    words: values.words,
    marks: kind === 'unsorted' ? '' : values.marks,
    placeId: values.placeId,
    placeText: values.placeText,
    note: values.note,
  };
}

const TEXT_OF: Readonly<Record<Cell, (values: RowValues) => string>> = {
  kind: (values) => values.kind,
  reference: (values) => values.referenceText,
  words: (values) => values.words,
  count: (values) => values.count,
  grade: (values) => values.grade,
  marks: (values) => values.marks,
  source: (values) => values.source,
  make: (values) => values.make,
  maker: (values) => values.makerName,
  packetDate: (values) => values.packetDate,
  packetCondition: (values) => values.packetCondition,
  place: (values) => values.placeText,
  owner: (values) => values.ownerName,
  note: (values) => values.note,
};

/** What stands in a cell. */
export function textOf(values: RowValues, cell: Cell): string {
  return TEXT_OF[cell](values);
}

/** Ditto: the cell as in the row above. A type or number is only taken over between rows of one kind. */
export function ditto(values: RowValues, above: RowValues, cell: Cell): RowValues {
  switch (cell) {
    case 'kind':
      return withKind(values, above.kind);
    case 'reference':
      return values.kind === above.kind
        ? {
            ...values,
            referenceId: above.referenceId,
            referenceText: above.referenceText,
            words: values.words === '' ? above.words : values.words,
          }
        : values;
    case 'place':
      return { ...values, placeId: above.placeId, placeText: above.placeText };
    case 'owner':
      return { ...values, ownerName: above.ownerName };
    case 'maker':
      return { ...values, makerName: above.makerName };
    default:
      return { ...values, [cell]: above[cell] };
  }
}

/** A whole row as the one above, but for what is of one thing alone: its marks, its note and the label that is on it. */
export function dittoRow(above: RowValues): RowValues {
  return { ...above, marks: '', note: '', code: '' };
}

/** Whether anything has been keyed that would be lost. */
export function isBlank(values: RowValues): boolean {
  return (
    [values.referenceText, values.words, values.marks, values.packetDate, values.note, values.code].every(
      (text) => text.trim() === '',
    ) && values.referenceId === null
  );
}

/** Whether two rows say the same. */
export function saysTheSame(one: RowValues, other: RowValues): boolean {
  return one.referenceId === other.referenceId && one.placeId === other.placeId && differences(one, other).length === 0;
}

export interface Difference {
  readonly cell: Cell;
  readonly mine: string;
  readonly theirs: string;
}

/** The cells in which two readings of one row differ, for a person to choose between. */
export function differences(mine: RowValues, theirs: RowValues): readonly Difference[] {
  if (mine.kind !== theirs.kind) return [{ cell: 'kind', mine: mine.kind, theirs: theirs.kind }];
  return cellsOf(mine.kind)
    .map((cell) => ({ cell, mine: textOf(mine, cell), theirs: textOf(theirs, cell) }))
    .filter((difference) => difference.mine !== difference.theirs);
}

/** What is still wanting before the row can be sent, in words; null when it can go. */
export function whatIsWanting(values: RowValues): { readonly cell: Cell; readonly words: string } | null {
  const isUnnamed = values.referenceId === null && values.words.trim() === '' && values.referenceText.trim() === '';
  if (values.kind === 'unsorted' && values.words.trim() === '')
    return { cell: 'words', words: 'Say in a few words what is in it.' };
  if (values.kind === 'lot' && isUnnamed) return { cell: 'reference', words: 'Key a part number, or say in words what it is.' };
  if (values.kind === 'lot' && values.count.trim() === '') return { cell: 'count', words: 'Key how many there are.' };
  if (values.placeId === null && values.placeText.trim() !== '')
    return {
      cell: 'place',
      words: `No place is called “${values.placeText.trim()}”. Choose one from the list, or leave the cell empty.`,
    };
  if (values.kind === 'unit' && isUnnamed)
    return { cell: 'reference', words: 'Choose a type, or say in words what it looks like; it can be named later.' };
  return null;
}
