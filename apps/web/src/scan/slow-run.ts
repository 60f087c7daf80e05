import type { WedgeKey } from '@corewright/codes/wedge';

/**
 * Keys struck outside every field, in one run. A scanner on a poor radio link, or on a busy tablet, stutters: its burst
 * comes in pieces. Nobody types a label's code into nothing by chance, so here, and only here, the pieces are joined.
 */
export type SlowRun = readonly WedgeKey[];

/** Keys further apart than this (milliseconds) do not belong to one run. */
const pauseMilliseconds = 1_000;
const runLengthMax = 40;

export function joinRun(run: SlowRun, stroke: WedgeKey): SlowRun {
  const last = run.at(-1);
  const joined = last !== undefined && stroke.timeStamp - last.timeStamp < pauseMilliseconds ? run : [];
  return stroke.key.length === 1 ? [...joined, stroke].slice(-runLengthMax) : joined;
}

/** From the last letter on: a code has one letter, and digits before it were another matter. */
export function codePart(run: SlowRun): SlowRun {
  const at = run.findLastIndex(isLetter);
  return at < 0 ? [] : run.slice(at);
}

/** Whether digits in this run may be the pieces of a code, and so no quantity and no choice. */
export function holdsLetter(run: SlowRun): boolean {
  return run.some(isLetter);
}

const isLetter = (stroke: WedgeKey): boolean => /^\p{Letter}$/u.test(stroke.key) && !/^(Digit|Numpad)/.test(stroke.code);
