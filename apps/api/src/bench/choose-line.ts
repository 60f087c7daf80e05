import {
  addDecimals,
  type Decimal,
  decimalFrom,
  formatDecimal,
  notBelowZero,
  subtractDecimals,
  zero,
} from '@corewright/quantities/decimal';
import type { Stop } from './may-serve.js';
import type { LineForScan } from './scan-facts.js';
import { type ScanMode, type ScanState, type ScanStop, stop } from './scan-state.js';

/** The line that a scan is for: the one that the person named, a further one, or the first of the part that has room. */
export function chooseLine({
  input,
  lines,
  thing,
  mode,
}: ScanState): { ok: true; value: LineForScan | 'further' } | { ok: false; error: ScanStop } {
  const named = input.inPlaceOf?.lineId ?? input.lineId;
  const noun = thing.partNumber ? `${thing.name}, ${thing.partNumber}` : thing.name;
  if (named) {
    const line = lines.find((each) => each.id === named);
    if (!line)
      return stop({
        code: 'not-on-this-job',
        title: 'Not a line of this job',
        detail: 'That line is not one of this job. Choose one of its lines.',
      });
    if (line.partId !== thing.partId && !input.inPlaceOf) return stop(notOnJob(noun));
    return lineHasRoom(line, mode) ? { ok: true, value: line } : stop(lineFull([line], noun));
  }
  if (input.furtherLine) {
    return thing.partId
      ? { ok: true, value: 'further' }
      : stop({
          code: 'unnamed',
          title: 'Nobody has named it',
          detail: 'A further line needs a part. Name this lot in Stores first, or fit it in place of a line.',
        });
  }
  const ofPart = lines.filter((line) => line.partId === thing.partId && !line.waived);
  if (ofPart.length === 0)
    return stop(
      thing.partId
        ? notOnJob(noun)
        : {
            code: 'unnamed',
            title: 'Nobody has named it',
            detail: `"${noun}" has no part number in the books, so no line asks for it. Name it in Stores, or fit it in place of a line, in your name.`,
          },
    );
  const open = ofPart.find((line) => lineHasRoom(line, mode));
  return open ? { ok: true, value: open } : stop(lineFull(ofPart, noun));
}

function notOnJob(noun: string): Stop {
  return {
    code: 'not-on-this-job',
    title: 'Not on this job',
    detail: `No line of this job asks for ${noun}. Fit it in place of a line, or as a further line; nothing was changed.`,
  };
}

function lineFull(lines: readonly LineForScan[], noun: string): Stop {
  const words = lines.map((line) => `line ${line.lineNo} has its ${formatDecimal(decimalFrom(line.needed))}`).join(', ');
  return {
    code: 'line-is-full',
    title: 'The line is full',
    detail: `${noun}: ${words}. Nothing was changed. If one more is needed, say so as a further line.`,
  };
}

function lineHasRoom(line: LineForScan, mode: ScanMode): boolean {
  return roomOf(line, mode) > zero;
}

/** What a line still takes in this mode. A fit may use up what was picked for it. */
export function roomOf(line: LineForScan, mode: ScanMode): Decimal {
  const there = addDecimals(decimalFrom(line.fitted), decimalFrom(line.reused));
  const spoken = mode === 'pick' ? addDecimals(there, decimalFrom(line.picked)) : there;
  return notBelowZero(subtractDecimals(decimalFrom(line.needed), spoken));
}
