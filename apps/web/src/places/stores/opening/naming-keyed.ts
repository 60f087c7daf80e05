import type { Make, PacketCondition, Source } from '@corewright/contracts/base';
import type { CostSaid, DeskRow, NameOpeningRow } from '@corewright/contracts/opening-stock';
import type * as z from 'zod';

/** What is said of a row at the desk, as it is keyed. */
export interface NamingKeyed {
  readonly text: string;
  readonly referenceId: string | null;
  readonly words: string;
  readonly source: Source;
  readonly make: Make;
  readonly makerName: string;
  readonly condition: string;
  readonly grade: string;
  readonly marks: string;
  readonly packetRead: string;
  readonly packetCondition: PacketCondition;
  readonly pieceCount: string;
  readonly note: string;
  readonly costStanding: 'none' | CostSaid['standing'];
  readonly cost: string;
}

/** What stays from one row to the next, for a shelf is often of one kind. */
export type Habits = Pick<NamingKeyed, 'source' | 'make'>;
export const noHabits: Habits = { source: 'unknown', make: 'unknown' };

export function namingOf(row: DeskRow, habits: Habits): NamingKeyed {
  const isNew = row.standing !== 'named';
  return {
    text: row.part?.number ?? row.unitType?.name ?? '',
    referenceId: row.part?.id ?? row.unitType?.id ?? null,
    words: row.words,
    source: isNew && (row.source ?? 'unknown') === 'unknown' ? habits.source : (row.source ?? 'unknown'),
    make: isNew && (row.make ?? 'unknown') === 'unknown' ? habits.make : (row.make ?? 'unknown'),
    makerName: row.maker ?? '',
    condition: row.condition,
    grade: row.grade,
    marks: row.marks,
    packetRead: row.packetRead,
    packetCondition: row.packetCondition ?? 'none',
    pieceCount: row.pieceCount?.toString() ?? '',
    note: row.note,
    costStanding: 'none',
    cost: '',
  };
}

/** What was keyed, as it is sent; a cost that nobody said is left as it is. */
export function namingSaid(kind: DeskRow['kind'], keyed: NamingKeyed): z.input<typeof NameOpeningRow> {
  const { words, note, marks, referenceId, costStanding } = keyed;
  const cost =
    costStanding === 'none' ? null : { standing: costStanding, amount: costStanding === 'unknown' ? '' : keyed.cost.trim() };
  if (kind === 'unit') return { kind, words, note, marks, cost, unitTypeId: referenceId, grade: keyed.grade };
  if (kind === 'unsorted')
    return { kind, words, note, cost, pieceCount: keyed.pieceCount.trim() === '' ? null : Number(keyed.pieceCount) };
  const { source, make, makerName, condition, packetRead, packetCondition } = keyed;
  return { kind, words, note, marks, cost, partId: referenceId, source, make, makerName, condition, packetRead, packetCondition };
}

/** What must be said first; null where it can be sent. */
export function whatIsWanting(
  kind: DeskRow['kind'],
  { text, referenceId, words, costStanding, cost }: NamingKeyed,
): string | null {
  if (kind !== 'unsorted' && text.trim() !== '' && referenceId === null)
    return 'Choose from the list what is meant, or leave the field empty and say it in words.';
  if (referenceId === null && words.trim() === '') return 'Say what it is: by its number, or in words.';
  if ((costStanding === 'figure' || costStanding === 'estimate') && cost.trim() === '')
    return 'Key what all of it cost, or say that nobody knows.';
  return null;
}
