/** Places that stand side by side, from left to right. */
export interface Shelf<Place> {
  /** what tells this shelf from the others; empty where there is one alone */
  readonly name: string;
  readonly places: readonly Place[];
}

/**
 * The shelves of a rack, read from what the places on it are called: "Bin 2-07" and "B7" name their shelf first, "Shelf 3" is one by itself. Common
 * practice, and no more: where the names say nothing of shelves, all places stand on one.
 * @param places in the order in which one walks past them
 */
export function shelvesOf<Place extends { readonly name: string }>(places: readonly Place[]): readonly Shelf<Place>[] {
  const names = places.map(({ name }) => shelfIn(name));
  if (new Set(names).size < 2 || names.includes(null)) return places.length === 0 ? [] : [{ name: '', places }];
  const shelves = new Map<string, Place[]>();
  for (const [index, place] of places.entries()) {
    const name = names[index] ?? '';
    shelves.set(name, [...(shelves.get(name) ?? []), place]);
  }
  return [...shelves].map(([name, standing]) => ({ name, places: standing }));
}

/** Which shelf a name speaks of; null where it speaks of none. */
function shelfIn(name: string): string | null {
  if (/^shelf\b/i.test(name)) return name;
  const found = /(?<![\p{Letter}\d])(\p{Letter}|\d+)(?:(?<=\p{Letter})|[-/. ])\d+$/u.exec(name);
  return found?.[1] === undefined ? null : `Shelf ${found[1].toUpperCase()}`;
}

/** Cuts places into rows of so many, so that long shelves are drawn row by row. */
export function rowsOf<Item>(items: readonly Item[], columns: number): readonly (readonly Item[])[] {
  const wide = Math.max(1, columns);
  return Array.from({ length: Math.ceil(items.length / wide) }, (_, row) => items.slice(row * wide, (row + 1) * wide));
}
