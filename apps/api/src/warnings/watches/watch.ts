import type { WarningKind } from '@corewright/contracts/warnings';
import { spoken } from '../../jobs/job.queries.js';
import type { Look, LookedLine } from '../look.js';
import type { Cause, LiveWarning } from '../warning.js';

/** Looks for one kind of reason to warn somebody. */
export interface Watch {
  kind: WarningKind;
  /** every cause that is there now, as far as the look went */
  causes(look: Look): Cause[];
  /** whether the look went so far as to tell that the cause of a warning is gone */
  sees(warning: LiveWarning, look: Look): boolean;
  /** what to write under a warning whose cause is gone */
  gone(warning: LiveWarning, look: Look): string;
}

/** Whether the line of a warning was looked at. */
export function seesLine({ lineId }: LiveWarning, { lines }: Look): boolean {
  return lineId !== null && lines.has(lineId);
}

/** "Thrust bearing, 48-2217" */
export function partOf({ line }: LookedLine): string {
  const { name, number } = line.part;
  return number === '' ? name : `${name}, ${number}`;
}

/** "line 15 of job J 000107 81" */
export function lineOf({ line, job }: LookedLine): string {
  return `line ${line.lineNo} of job ${spoken(job.code)}`;
}

export function capital(words: string): string {
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}
