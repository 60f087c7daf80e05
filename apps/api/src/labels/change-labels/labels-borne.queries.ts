import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import type { LabelBorne, LabelChangeShown, LabelsBorne } from '@corewright/contracts/label-changes';
import type { Reader } from '../../platform/database/database.js';
import { codeOf } from '../../stores/place-words.js';
import { thingRows } from '../../stores/thing.queries.js';
import { bearerOf } from './bearer.js';

interface CodeRow extends Record<string, unknown> {
  code: LabelCode;
  subjectId: string;
  givenAt: string;
  voidedAt: string | null;
  voidWords: string | null;
  further: boolean;
  printed: number;
}

interface Change {
  code: LabelCode;
  kind: 'put on' | 'replaced' | 'taken off' | 'went over';
  otherCode: LabelCode | null;
  cameHere: boolean;
  /** of what went over, where it was or is, as that is known now */
  otherLot: LabelCode | null;
}

interface ChangeRow extends Change, Record<string, unknown> {
  id: string;
  at: string;
  by: string;
  why: string;
}

const selectCodes = `
  SELECT code, subject_id AS "subjectId", given_at AS "givenAt", voided_at AS "voidedAt", void_words AS "voidWords", further,
         (SELECT count(*)::integer FROM label_prints WHERE label_prints.code = codes.code) AS printed
    FROM codes WHERE subject_id = $1 OR moved_from_id = $1
   ORDER BY voided_at IS NOT NULL, subject_id <> $1, further, given_at DESC, code`;
const selectChanges = `
  SELECT label_changes.id, recorded_at AS at, people.display_name AS by, code, kind, other_code AS "otherCode", subject_id = $1 AS "cameHere",
         ${codeOf('CASE WHEN subject_id = $1 THEN other_subject_id ELSE subject_id END')} AS "otherLot", why
    FROM label_changes JOIN people ON people.id = person_id
   WHERE subject_id = $1 OR other_subject_id = $1 ORDER BY sequence DESC`;

/** Every code that a thing or a place bears or bore, and what became of each; null for what is neither. */
export async function labelsBorne(reader: Reader, subjectId: string): Promise<LabelsBorne | null> {
  const subject = await bearerOf(reader, subjectId);
  if (subject === null) return null;
  const [codes, changes] = await Promise.all([
    reader.rows<CodeRow>(selectCodes, [subjectId]),
    reader.rows<ChangeRow>(selectChanges, [subjectId]),
  ]);
  const elsewhere = codes.map((row) => row.subjectId).filter((id) => id !== subjectId);
  const others = new Map((await thingRows(reader, elsewhere)).map(({ id, code, name }) => [id, { id, code, name }]));
  const { id, code, name, isPlace } = subject;
  return {
    subject: { id, code, name },
    isPlace,
    labels: codes.map((row) => labelShown(row, row.subjectId === subjectId ? null : (others.get(row.subjectId) ?? null))),
    changes: changes.map(changeShown),
  };
}

function labelShown(row: CodeRow, opens: LabelBorne['opens']): LabelBorne {
  const { code, givenAt, printed, voidedAt, voidWords, further } = row;
  const state = voidedAt !== null ? 'void' : opens !== null ? 'went over' : further ? 'further' : 'shown';
  return { code, state, givenAt, printed, voidedAt, words: voidWords ?? '', opens };
}

function changeShown({ id, at, by, why, ...change }: ChangeRow): LabelChangeShown {
  return { id, at, by, why, words: wordsOf(change) };
}

function wordsOf({ kind, code, otherCode, cameHere, otherLot }: Change): string {
  const label = formatCode(code);
  switch (kind) {
    case 'put on':
      return `${label} put on as a further label`;
    case 'replaced':
      return `${label} replaced${otherCode === null ? '' : ` by ${formatCode(otherCode)}`}`;
    case 'taken off':
      return `${label} taken off`;
    case 'went over': {
      const lot = otherLot === null ? 'another lot' : formatCode(otherLot);
      return cameHere ? `${label} came over, with goods that were another lot` : `${label} went over to ${lot}, with its goods`;
    }
  }
}
