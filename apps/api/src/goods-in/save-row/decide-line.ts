/**
 * The line on which a row goes: the one that was keyed, or the next free one after it where another tab was quicker.
 * @param taken the lines of the load's other rows
 */
export function decideLine(wanted: number, taken: ReadonlySet<number>): number {
  let line = wanted;
  while (taken.has(line)) line += 1;
  return line;
}
