const names = new Intl.Collator('en', { numeric: true, sensitivity: 'base' });

/** Which of two names of places comes first, with the numbers in them as numbers: Bin 2 before Bin 10. */
export function compareNames(one: string, other: string): number {
  return names.compare(one, other);
}

/** Places beside each other in the order in which one walks past them. */
export function inOrder<Place extends { name: string }>(places: readonly Place[]): Place[] {
  return places.toSorted((one, other) => compareNames(one.name, other.name));
}
