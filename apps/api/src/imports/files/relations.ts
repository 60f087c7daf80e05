import { EvidenceKind, RelationKind, Since } from '@corewright/contracts/relations';
import type { Books } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { type KnownPart, makers, partIn, partNumbered } from '../lookups.js';
import type { Row } from '../row.js';

/** Withdrawn or not: what a person took back does not come in again with the next import. */
const selectKnown = `
  SELECT to_part_id AS "toId" FROM relations
   WHERE kind = $1 AND from_part_id = $2 AND to_part_id = ANY ($3::uuid[])
   UNION SELECT from_part_id FROM relations WHERE kind = 'same as' AND $1 = 'same as' AND to_part_id = $2 AND from_part_id = ANY ($3::uuid[])`;

/** How parts stand to one another, with the evidence. */
export const relations: FileReader = {
  file: 'relations',
  columns: columns(
    'from_maker!',
    'from_number!',
    'kind!',
    'to_maker!',
    'to_number!',
    'since',
    'conditions',
    'evidence!',
    'evidence_words!',
  ),
  key: ['from_maker', 'from_number', 'kind', 'to_maker', 'to_number'],
  async read(row, books) {
    const from = await partIn(row, 'from_maker', 'from_number', books);
    const kind = row.choice('kind', RelationKind.options);
    const to = await targetsIn(row, books, kind === 'supersession');
    const since = sinceIn(row);
    const conditions = row.longText('conditions');
    const evidenceKind = row.choice('evidence', EvidenceKind.options);
    const words = row.text('evidence_words');
    if (row.faulty || from === null || kind === null || to === null || evidenceKind === null) return null;
    const toPartIds = to.map((part) => part.id);
    const known = await books.transaction.rows(selectKnown, [kind, from.id, toPartIds]);
    if (known.length === toPartIds.length) return 'unchanged';
    const asked = { kind, toPartIds, conditions, since, evidence: { kind: evidenceKind, words } };
    const recorded = await books.handlers.relations.handle(books.transaction, from.id, asked);
    return recorded.ok ? 'added' : row.refused('to_number', recorded.error);
  },
};

/** The parts that a row names; several, parted by semicolons, where they are a kit. */
async function targetsIn(row: Row, books: Books, mayBeKit: boolean): Promise<KnownPart[] | null> {
  const numbers = mayBeKit ? row.list('to_number') : [];
  if (numbers.length < 2) {
    const part = await partIn(row, 'to_maker', 'to_number', books);
    return part === null ? null : [part];
  }
  const names = row.list('to_maker');
  if (names.length !== 1 && names.length !== numbers.length)
    return row.fault('to_maker', 'Write one maker for the whole kit, or as many as there are numbers, in their order.');
  const known = await makers(books);
  const parts: KnownPart[] = [];
  for (const [index, number] of numbers.entries()) {
    const makerId = known.get((names[index] ?? names[0] ?? '').toLowerCase());
    const part = makerId === undefined ? null : await partNumbered(books, makerId, number);
    if (part === 'several' || part === null)
      row.fault('to_number', `"${number}" is not the number of one part of this maker. Write it as it is printed.`);
    else parts.push(part);
  }
  return parts.length < numbers.length ? null : parts;
}

function sinceIn(row: Row): string | null {
  const text = row.text('since');
  if (text === '') return null;
  const read = Since.safeParse(text);
  return read.success ? read.data : row.fault('since', 'This is a year, such as 1951, or year-month, or year-month-day.');
}
