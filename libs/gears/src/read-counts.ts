/** Counts as people key them. What cannot be read is null: the screen says how to key it. */

/** "9", "9.75", "9,75", "9 3/4" or "3/4" turns. */
export function readTurns(text: string): number | null {
  const keyed = text.trim();
  const mixed = /^(?:(\d{1,4})[ -])?(\d{1,3})\/(\d{1,3})$/.exec(keyed);
  if (mixed) return Number(mixed[3]) === 0 ? null : Number(mixed[1] ?? 0) + Number(mixed[2]) / Number(mixed[3]);
  return /^\d{1,6}(?:[.,]\d{1,6})?$/.test(keyed) ? Number(keyed.replace(',', '.')) : null;
}

/** "6 to 14", "6-14", or "9" alone. */
export function readTeethBetween(text: string): { least: number; most: number } | null {
  const found = /^\s*(\d{1,4})\s*(?:(?:to|-|–)\s*(\d{1,4}))?\s*$/.exec(text);
  if (!found) return null;
  const [least, most] = [Number(found[1]), Number(found[2] ?? found[1])];
  return least >= 1 && least <= most && most <= 1000 ? { least, most } : null;
}
