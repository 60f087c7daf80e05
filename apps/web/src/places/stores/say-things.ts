/** How many things lie in a place, in words. */
export function sayThings(count: number): string {
  if (count === 0) return 'empty';
  return count === 1 ? '1 thing' : `${count} things`;
}
