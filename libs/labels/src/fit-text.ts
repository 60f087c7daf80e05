import type { LabelFont, MeasureText } from './label-scene.js';

export interface TextRoom {
  font: LabelFont;
  /** Em that is wished for and the least that is still read, in dots. */
  size: number;
  sizeMin: number;
  /** Room across, in dots. */
  width: number;
}

export interface FittedText {
  lines: string[];
  /** Em in dots. */
  size: number;
  shortened: boolean;
}

const ellipsis = '…';
/** Sizes go down in quarters of a dot, which a renderer still tells apart. */
const sizeStep = 0.25;

/** One line: shrinks to the least size, then ends in an ellipsis. */
export function fitLine(text: string, room: TextRoom, measure: MeasureText): FittedText {
  const size = sizeFor(text, room, measure);
  if (size !== null) return { lines: [text], size, shortened: false };
  return { lines: [cutToWidth(text, room, measure)], size: room.sizeMin, shortened: true };
}

/** The largest size at which the text fits on one line; null if it does not even at the least. */
export function sizeFor(text: string, room: TextRoom, measure: MeasureText): number | null {
  const widthOfEm = measure(text, room.font, 1);
  if (widthOfEm * room.size <= room.width) return room.size;
  const size = Math.floor(room.width / widthOfEm / sizeStep) * sizeStep;
  return size >= room.sizeMin ? size : null;
}

/** Several lines at the least size, broken between words (within a word that is wider than the room), the last cut if need be. */
export function fitLines(text: string, room: TextRoom, linesMax: number, measure: MeasureText): FittedText {
  const lines: string[] = [];
  let rest = text.trim();
  while (rest !== '' && lines.length < linesMax - 1) {
    const taken = takeLine(rest, room, measure);
    lines.push(taken.trimEnd());
    rest = rest.slice(taken.length).trimStart();
  }
  if (rest === '') return { lines, size: room.sizeMin, shortened: false };
  const fits = measure(rest, room.font, room.sizeMin) <= room.width;
  lines.push(fits ? rest : cutToWidth(rest, room, measure));
  return { lines, size: room.sizeMin, shortened: !fits };
}

/** As much of the text as fits on a line, up to a gap between words where there is one. */
function takeLine(text: string, room: TextRoom, measure: MeasureText): string {
  const length = lengthThatFits(text, '', room, measure);
  if (length >= text.length) return text;
  // One further character is looked at: a gap just after the room is a good place to break too.
  const gap = text.slice(0, length + 1).lastIndexOf(' ');
  return text.slice(0, gap > 0 ? gap : Math.max(length, 1));
}

function cutToWidth(text: string, room: TextRoom, measure: MeasureText): string {
  const length = lengthThatFits(text, ellipsis, room, measure);
  return text.slice(0, length).trimEnd() + ellipsis;
}

/** The longest beginning that fits at the least size with the given ending, found by halving. Never splits a surrogate pair. */
function lengthThatFits(text: string, ending: string, room: TextRoom, measure: MeasureText): number {
  let fits = 0;
  let tooLong = text.length + 1;
  while (tooLong - fits > 1) {
    const middle = (fits + tooLong) >> 1;
    if (measure(text.slice(0, middle) + ending, room.font, room.sizeMin) <= room.width) fits = middle;
    else tooLong = middle;
  }
  const last = text.charCodeAt(fits - 1);
  return last >= 0xd800 && last < 0xdc00 ? fits - 1 : fits;
}
