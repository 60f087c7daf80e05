import type { InsteadOfPart } from '@corewright/contracts/substitutes';
import {
  addDecimals,
  type Decimal,
  decimalFrom,
  formatDecimal,
  notBelowZero,
  one,
  subtractDecimals,
  zero,
} from '@corewright/quantities/decimal';
import type { LineInstead } from './lines-instead.js';
import type { Stop } from './may-serve.js';
import type { JobForScan, LineForScan, ScannedThing } from './scan-facts.js';
import { type ScanMode, type ScanState, type ScanStop, stop } from './scan-state.js';

/** The line that a scan is for, and where it asks for another part: on what word this one serves it. */
export interface ChosenLine {
  line: LineForScan | 'further';
  instead: InsteadOfPart | null;
}

type Choice = { ok: true; value: ChosenLine } | { ok: false; error: ScanStop };

/** The line that the person named, a further one, the first of the part that has room, or one that the part serves in place of its own. */
export function chooseLine(state: ScanState): Choice {
  const { input, lines, thing, mode } = state;
  if (input.inPlaceOf?.lineId ?? input.lineId) return namedLine(state);
  if (input.furtherLine) return furtherLine(state);
  const ofPart = lines.filter((line) => line.partId === thing.partId && !line.waived);
  const open = ofPart.find((line) => lineHasRoom(line, mode));
  if (open) return chosen(open);
  const elsewhere = lineInstead(state);
  return elsewhere.ok || ofPart.length === 0 ? elsewhere : stop(lineFull(ofPart, nounOf(state)));
}

function chosen(line: LineForScan | 'further', instead: InsteadOfPart | null = null): Choice {
  return { ok: true, value: { line, instead } };
}

function nounOf({ thing }: ScanState): string {
  return thing.partNumber ? `${thing.name}, ${thing.partNumber}` : thing.name;
}

function namedLine(state: ScanState): Choice {
  const { input, lines, thing, mode } = state;
  const named = input.inPlaceOf?.lineId ?? input.lineId;
  const line = lines.find((each) => each.id === named);
  if (!line)
    return stop({
      code: 'not-on-this-job',
      title: 'Not a line of this job',
      detail: 'That line is not one of this job. Choose one of its lines.',
    });
  const served = state.instead.find((each) => each.line.id === named && each.instead.isAccepted);
  if (line.partId !== thing.partId && !input.inPlaceOf && !served) return stop(notOnJob(nounOf(state)));
  return lineHasRoom(line, mode) ? chosen(line, served?.instead) : stop(lineFull([line], nounOf(state)));
}

function furtherLine({ thing }: ScanState): Choice {
  return thing.partId
    ? chosen('further')
    : stop({
        code: 'unnamed',
        title: 'Nobody has named it',
        detail: 'A further line needs a part. Name this lot in Stores first, or fit it in place of a line.',
      });
}

/** No line asks for the part: one that it serves in place of its own, if that is on the record. */
function lineInstead(state: ScanState): Choice {
  const { thing, instead, mode } = state;
  const noun = nounOf(state);
  if (thing.partId === null)
    return stop({
      code: 'unnamed',
      title: 'Nobody has named it',
      detail: `"${noun}" has no part number in the books, so no line asks for it. Name it in Stores, or fit it in place of a line, in your name.`,
    });
  const withRoom = instead.filter(({ line }) => lineHasRoom(line, mode));
  const [first] = withRoom;
  if (first?.instead.isAccepted) return chosen(first.line, first.instead);
  if (first) return stop(notAcceptedYet(first));
  if (instead.length === 0) return stop(notOnJob(noun));
  return stop(
    lineFull(
      instead.map(({ line }) => line),
      noun,
    ),
  );
}

/** As long as a person's own words may be. */
const evidenceMax = 200;

function notAcceptedYet({ line, instead }: LineInstead): Stop & Pick<ScanStop, 'suggested'> {
  const conditions = instead.conditions === '' ? '' : ` On condition: ${instead.conditions}.`;
  return {
    code: 'not-accepted-yet',
    title: 'Not accepted for this job yet',
    detail: `Line ${line.lineNo} asks for ${line.name}. ${instead.words}${conditions} Nobody has accepted it for this job: fit it in place of the line, in your name, or accept it on the job’s card. Nothing was changed.`,
    suggested: {
      lineId: line.id,
      why: `${instead.as}, by what is on the record`,
      evidence: (instead.conditions || instead.words).slice(0, evidenceMax),
    },
  };
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
export function roomOf(line: Pick<LineForScan, 'needed' | 'fitted' | 'reused' | 'picked'>, mode: ScanMode): Decimal {
  const there = addDecimals(decimalFrom(line.fitted), decimalFrom(line.reused));
  const spoken = mode === 'pick' ? addDecimals(there, decimalFrom(line.picked)) : there;
  return notBelowZero(subtractDecimals(decimalFrom(line.needed), spoken));
}

/** A part of this very unit that was found fit to be used again takes the room that its finding has kept for it. */
export function roomForOwn<Line extends Pick<LineForScan, 'partId' | 'reused'>>(
  lines: readonly Line[],
  thing: Pick<ScannedThing, 'componentOf' | 'partId'>,
  job: Pick<JobForScan, 'unitId'>,
): readonly Line[] {
  if (thing.componentOf !== job.unitId) return lines;
  const without = (reused: string) => formatDecimal(notBelowZero(subtractDecimals(decimalFrom(reused), one)));
  return lines.map((line) => (line.partId === thing.partId ? { ...line, reused: without(line.reused) } : line));
}
