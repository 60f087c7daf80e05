import { changeOf, intoChanges } from '../catalogue/bearings/tables/table.queries.js';
import type { ManyRows } from '../platform/database/many-rows.js';
import { type Books, noteDifferences } from './books.js';
import type { Outcome } from './file-reader.js';
import type { Row } from './row.js';

/** A row of a table of bearings, in which the workshop's own stand beside those that come with the program. */
export interface OwnRow extends Record<string, unknown> {
  shipped: boolean;
}

export interface AskedRow {
  known: Map<string, OwnRow>;
  /** what it is called in the log of changes, too */
  key: string;
  /** what the row says, by the columns of the file, in the order in which the statements take them */
  facts: Record<string, unknown>;
  /** what it is known by, in the order of the statements */
  names: Readonly<Record<string, string>>;
  into: ManyRows;
  takeOver: string;
}

/**
 * Takes what the workshop says. Where the program's own table says otherwise that is told, and from then on the workshop's row
 * stands with its source; where it says the same there is nothing to take. The workshop's own rows are not changed by an import.
 * Who brought a row in stays in the log, as where it is keyed.
 */
export async function ownRow(row: Row, books: Books, { known, key, facts, names, into, takeOver }: AskedRow): Promise<Outcome> {
  const there = known.get(key);
  if (there && !there.shipped) {
    noteDifferences(row, facts, there);
    return 'unchanged';
  }
  const values = [...Object.values(names), ...Object.values(facts)];
  if (!there) await books.add(into, values);
  else {
    const others = Object.entries(facts).filter(([column, value]) => column !== 'source' && value !== there[column]);
    if (others.length === 0) return 'unchanged';
    for (const [column] of others)
      row.note(
        column,
        `The table that comes with the program says ${there[column] === null ? 'nothing' : `"${String(there[column])}"`} here, by ${String(there.source)}. Your row stands in its place from now on, with its own source.`,
      );
    await books.transaction.rows(takeOver, values);
  }
  await books.add(intoChanges, changeOf(books.transaction.command, key, { ...names, ...facts, shipped: false }, null));
  books.transaction.news('stores');
  known.set(key, { ...facts, shipped: false });
  return 'added';
}
