import type { Books } from './books.js';
import type { Row } from './row.js';

const allPeople = `SELECT id, sign_in_name AS name, active AND role <> 'viewer' AS "mayLift" FROM people`;
const setHolder = 'UPDATE things SET held_back_by = $2 WHERE id = $1';

interface KnownPerson extends Record<string, unknown> {
  id: string;
  name: string;
  mayLift: boolean;
}

/** A hold as a row has it. */
export interface HoldOfRow {
  reason: string;
  /** who put it on; null: whoever brings the file in */
  heldById: string | null;
  /** who alone may lift it; null: whoever keeps the books */
  mayLiftId: string | null;
  lookAgainOn: string | null;
}

/** What a row says of a hold; null where it is not held back, or, with a fault, where what is said does not hold. */
export async function holdIn(row: Row, books: Books): Promise<HoldOfRow | null> {
  const reason = row.text('held_back');
  const lookAgainOn = row.day('look_again_on');
  if (reason === '') {
    for (const column of ['held_by', 'may_lift', 'look_again_on'])
      if (row.cell(column) !== '')
        row.fault(column, 'Nothing is held back here. Say why under "held_back", or leave this empty.');
    return null;
  }
  const lifter = row.cell('may_lift') === '' ? null : await personIn(row, 'may_lift', books);
  if (lifter === undefined)
    books.lacking(row, 'may_lift', `Nobody who signs in as "${row.cell('may_lift')}"`, 'people', [row.cell('may_lift')]);
  if (lifter?.mayLift === false)
    row.fault(
      'may_lift',
      'That person is not here any more, or only looks. Name another, or leave it to all who keep the books.',
    );
  return { reason, heldById: await heldByIn(row, books), mayLiftId: lifter?.id ?? null, lookAgainOn };
}

/** Who put it on is not worth losing the row for: where nobody has that name it is noted. */
async function heldByIn(row: Row, books: Books): Promise<string | null> {
  const person = row.cell('held_by') === '' ? null : await personIn(row, 'held_by', books);
  if (person === undefined)
    row.note('held_by', 'Nobody signs in by this name here, so the hold stands in the name of whoever brings the file in.');
  return person?.id ?? null;
}

/** Undefined where nobody signs in so. */
async function personIn(row: Row, column: string, books: Books): Promise<KnownPerson | undefined> {
  const name = row.text(column);
  const people = await books.register('people who hold', async () => {
    const rows = await books.transaction.rows<KnownPerson>(allPeople);
    return new Map(rows.map((person) => [person.name.toLowerCase(), person]));
  });
  return people.get(name.toLowerCase());
}

/** What is not to be used until somebody has looked at it, by the rule of the screen. */
export async function holdBack(books: Books, thingId: string, { reason, heldById, ...terms }: HoldOfRow): Promise<void> {
  await books.handlers.holds.put(books.transaction, thingId, reason, true, terms);
  if (heldById !== null) await books.transaction.rows(setHolder, [thingId, heldById]);
}
