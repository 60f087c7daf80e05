const marksMax = 20;

/** What ends in figures, read or not, and is no casting number may be a serial; words such as "lid lost" are none. */
const likeSerial = /^(?!cast).*[0-9?]{2,}$/i;

/** Marks as they are keyed, set off by a point, a comma or a semicolon. */
export function separateMarks(text: string): string[] {
  return text
    .split(/[·,;|\n]+/)
    .map((mark) => mark.trim())
    .filter((mark) => mark !== '')
    .slice(0, marksMax);
}

/** The marks in the books as a first reading: the first that may be a serial is one, the others are marks. */
export function readingOfMarks(text: string): { serial: string; marks: string[] } {
  const each = separateMarks(text);
  const serial = each.find((mark) => likeSerial.test(mark)) ?? '';
  return { serial, marks: each.filter((mark) => mark !== serial) };
}
