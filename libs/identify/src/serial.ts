import { keyOfReading } from './match-mark.js';

/** Serial numbers of a type: so its makers counted. */
export interface SerialRange {
  prefix: string;
  first: number;
  last: number;
}

/** `whole`: every figure was read and lies within; `open`: with some figure unread it may; `outside`: it cannot be one of these. */
export type SerialStanding = 'whole' | 'open' | 'outside';

/** How a serial stands to a range. */
function standingIn({ prefix, first, last }: SerialRange, serial: string): SerialStanding {
  const begins = keyOfReading(prefix);
  const head = Array.from(serial).slice(0, begins.length).join('');
  const figures = serial.slice(head.length);
  if (!/^[0-9?]{1,12}$/.test(figures) || !mayBe(begins, head)) return 'outside';
  const least = Number(figures.replaceAll('?', '0'));
  const most = Number(figures.replaceAll('?', '9'));
  if (most < first || least > last) return 'outside';
  if (serial.includes('?')) return mayLieWithin(figures, first, last) ? 'open' : 'outside';
  return 'whole';
}

/** The best standing of a serial to any of a type's ranges; null where there are none, or nothing was read of it. */
export function serialStanding(ranges: readonly SerialRange[], serial: string): SerialStanding | null {
  const key = keyOfReading(serial);
  if (ranges.length === 0 || !/[^?]/.test(key)) return null;
  const standings = ranges.map((range) => standingIn(range, key));
  return standings.includes('whole') ? 'whole' : standings.includes('open') ? 'open' : 'outside';
}

function mayBe(begins: string, head: string): boolean {
  const read = Array.from(head);
  return begins.length === head.length && Array.from(begins).every((each, index) => read[index] === '?' || read[index] === each);
}

/** Whether some way to read the `?` gives a number within: tried figure by figure, so that it costs no more than the figures. */
function mayLieWithin(figures: string, first: number, last: number): boolean {
  const fits = (head: string, rest: string): boolean => {
    const least = Number(head + rest.replaceAll('?', '0'));
    const most = Number(head + rest.replaceAll('?', '9'));
    if (most < first || least > last) return false;
    if (least >= first || most <= last || rest === '') return true;
    const choices = rest.startsWith('?') ? '0123456789' : rest[0];
    return Array.from(choices ?? '').some((figure) => fits(head + figure, rest.slice(1)));
  };
  return fits('', figures);
}
