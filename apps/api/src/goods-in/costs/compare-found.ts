import type { FoundAgainstSaid } from '@corewright/contracts/costs';
import {
  compareDecimals,
  type Decimal,
  decimalFrom,
  formatDecimal,
  subtractDecimals,
  sumDecimals,
  zero,
} from '@corewright/quantities/decimal';

/** A line of what the seller said. */
export interface Said {
  words: string;
  quantity: number;
  /** the unit type or the part that it means; null where it was said in words alone */
  referenceId: string | null;
}

/** A row that was found. */
export interface Found {
  words: string;
  quantity: Decimal;
  /** the unit type or the part that it is; null where nobody has named it */
  referenceId: string | null;
}

/**
 * What was said to be in a load beside what was found of it: first what was said, in its order, then what nobody said a word of.
 * Words alone are compared with rows that say the same, small or capital; where none does, nobody can say whether it is there.
 */
export function compareFound(said: readonly Said[], found: readonly Found[]): FoundAgainstSaid[] {
  const foundBy = gathered(found, (row) => row.quantity);
  const saidBy = gathered(said, (line) => decimalFrom(String(line.quantity)));
  const compared = [...saidBy].map(([key, { words, quantity, isNamed }]) => {
    const match = foundBy.get(key) ?? byWords(foundBy, words);
    if (match !== undefined) foundBy.delete(match.key);
    return against(words, quantity, match?.quantity ?? (isNamed ? zero : null));
  });
  return [...compared, ...[...foundBy.values()].map(({ words, quantity }) => unsaid(words, quantity))];
}

interface Group {
  key: string;
  words: string;
  quantity: Decimal;
  isNamed: boolean;
}

function gathered<Row extends { words: string; referenceId: string | null }>(
  rows: readonly Row[],
  quantityOf: (row: Row) => Decimal,
): Map<string, Group> {
  const groups = new Map<string, Group>();
  for (const row of rows) {
    const key = row.referenceId ?? `words: ${folded(row.words)}`;
    const before = groups.get(key);
    const quantity = sumDecimals([before?.quantity ?? zero, quantityOf(row)]);
    groups.set(key, { key, words: before?.words ?? row.words, quantity, isNamed: row.referenceId !== null });
  }
  return groups;
}

function byWords(groups: ReadonlyMap<string, Group>, words: string): Group | undefined {
  return [...groups.values()].find((group) => folded(group.words) === folded(words));
}

function folded(words: string): string {
  return words.toLowerCase().replace(/\s+/g, ' ').trim();
}

function against(words: string, said: Decimal, found: Decimal | null): FoundAgainstSaid {
  const count = { words, said: Number(formatDecimal(said)), found: found === null ? null : formatDecimal(found) };
  if (found === null) return { ...count, difference: 'said in words alone: look through the rows yourself', agrees: false };
  const order = compareDecimals(found, said);
  if (order === 0) return { ...count, difference: 'as said', agrees: true };
  if (found === zero) return { ...count, difference: 'none found', agrees: false };
  return {
    ...count,
    difference:
      order < 0
        ? `${formatDecimal(subtractDecimals(said, found))} short`
        : `${formatDecimal(subtractDecimals(found, said))} more than said`,
    agrees: false,
  };
}

function unsaid(words: string, quantity: Decimal): FoundAgainstSaid {
  return { words, said: null, found: formatDecimal(quantity), difference: 'nobody said a word of it', agrees: false };
}
