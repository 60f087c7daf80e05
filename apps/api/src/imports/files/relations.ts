import { EvidenceKind, RelationKind, Since } from '@corewright/contracts/relations';
import { type RelatedPart, whyNotRelated } from '../../catalogue/relations/decide-relation.js';
import { doubtsAbout, intoRelations, rowsOfRelation } from '../../catalogue/relations/record-relation.handler.js';
import { newId } from '../../platform/new-id.js';
import type { Books } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import type { KnownPart } from '../known-numbers.js';
import { makers, partIn, partNumbered } from '../lookups.js';
import type { Row } from '../row.js';

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
  numberColumns: ['from_number', 'to_number'],
  lookUp: (books) => books.relations.lookUp(books.numbers.partIds),
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
    if (books.relations.hold(kind, from.id, toPartIds)) return 'unchanged';
    const asked = { kind, toPartIds, conditions, since, evidence: { kind: evidenceKind, words } };
    const named = to.map((part) => relatedPart(part, books));
    const facts = {
      from: relatedPart(from, books),
      to: named,
      today: books.today,
      ...books.relations.around(from.id, toPartIds),
    };
    const refusal = whyNotRelated(asked, facts);
    if (refusal !== null) return row.refused('to_number', refusal);
    const { transaction } = books;
    const doubts = await doubtsAbout(from.id, asked, () => books.relations.bearings());
    const personId = transaction.command.person.id;
    for (const values of rowsOfRelation(from.id, asked, { groupId: newId(), personId, doubts }))
      await books.add(intoRelations, values);
    books.relations.add(kind, from.id, named);
    transaction.news('stores');
    return 'added';
  },
};

/** A part as the rule of the screens takes it. */
function relatedPart(part: KnownPart, books: Books): RelatedPart {
  return { id: part.id, name: part.name, number: books.numbers.mainOf(part.id)?.number ?? '', unitOfMeasure: part.unit };
}

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
    const makerId = known.get((names[index] ?? names[0] ?? '').toLowerCase())?.id;
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
