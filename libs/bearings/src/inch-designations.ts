import type { BearingType } from './bearing-types.js';

/** What an inch number tells, and how many characters of it were read. */
export interface InchReading {
  readonly system: 'inch ball' | 'imperial light' | 'imperial medium' | 'inch taper';
  readonly type: BearingType;
  readonly letters: string;
  readonly basic: string;
  readonly piece: 'whole' | 'cone' | 'cup' | 'unknown piece';
  readonly boreMm: number | null;
  readonly length: number;
  readonly notes: readonly string[];
}

/** Whole ten-thousandths of a millimetre, as the table of dimensions keeps them. */
function inchesInMm(inches: number): number {
  return Math.round(inches * 254_000) / 10_000;
}

/** Tries the inch systems one after another; null where none fits. @param words without a space before, in capitals */
export function readInch(words: string): InchReading | null {
  return readBallInch(words) ?? readBritish(words) ?? readTaper(words);
}

/** Inch ball bearings R2 to R24: the figure is the bore in sixteenths (ABMA 20, from memory). */
function readBallInch(words: string): InchReading | null {
  const match = /^R\s?(\d{1,2})(?!\d)/.exec(words);
  if (!match) return null;
  const sixteenths = Number(match[1]);
  if (sixteenths < 2 || sixteenths > 40) return null;
  return {
    system: 'inch ball',
    type: 'deep groove ball',
    letters: 'R',
    basic: `R${sixteenths}`,
    piece: 'whole',
    boreMm: inchesInMm(sixteenths / 16),
    length: match[0].length,
    notes: ['The figure counts sixteenths of an inch of bore (ABMA 20, from memory).'],
  };
}

const fromMemory = '(common practice, from memory).';

/**
 * Old imperial series, light and medium. RLS and RMS count eighths of an inch of bore, LJ and MJ (ball) and LRJ and MRJ (roller)
 * name it in inches. Common practice, from memory. LS and MS number the sizes one after another, so nothing is read from them.
 */
function readBritish(words: string): InchReading | null {
  const eighths = /^R(L|M)S[\s-]?(\d{1,2})(?!\d)/.exec(words);
  if (eighths) {
    const count = Number(eighths[2]);
    if (count < 3) return null;
    return british(eighths[1]!, `R${eighths[1]}S${count}`, '', count / 8, eighths[0].length, `counts eighths of an inch of bore`);
  }
  const inches = /^(L|M)(R?)J[\s-]?(\d{1,2}(?:[\s-]\d\/\d{1,2})?|\d\/\d)(?![\d/])/.exec(words);
  if (!inches) return null;
  const [whole, weight = '', roller = '', size = ''] = inches;
  const bore = size
    .split(/[\s-]/)
    .map((part) => {
      const [over = '', under = '1'] = part.split('/');
      return Number(over) / Number(under);
    })
    .reduce((sum, part) => sum + part, 0);
  if (!Number.isFinite(bore) || bore === 0) return null;
  const basic = `${weight}${roller}J ${size.replace('-', ' ')}`;
  return british(weight, basic, roller === '' ? '' : `${weight}RJ`, bore, whole.length, 'names the bore in inches');
}

function british(weight: string, basic: string, roller: string, inches: number, length: number, rule: string): InchReading {
  return {
    system: weight === 'L' ? 'imperial light' : 'imperial medium',
    type: roller === '' ? 'deep groove ball' : 'cylindrical roller',
    letters: roller,
    basic,
    piece: 'whole',
    boreMm: inchesInMm(inches),
    length,
    notes: [`The figure ${rule} ${fromMemory}`],
  };
}

const number = '(?:EL|LL|LM|L|M|HM|HH|H|EH|JL|JLM|JM|JHM|JH|J)?\\s?\\d{3,7}\\s?[A-Z]?';
const pair = new RegExp(`^(${number})\\s?\\/\\s?((?:[A-Z]{1,3}\\s?)?\\d{2,7}[A-Z]?)(?![A-Z0-9])`);
const lettersFirst = /^(EL|LL|JLM|JHM|JM|JL|JH|LM|HM|HH|EH|L|M|H)\s?(\d{3,7})([A-Z]?)(?![A-Z0-9])/;
const ofTwo = 'An inch taper roller bearing is an assembly of two: the cone (inner ring with rollers) and the cup (outer ring).';

/** Inch taper roller numbers (ABMA 19, from memory): cone and cup each have a number. */
function readTaper(words: string): InchReading | null {
  const both = pair.exec(words);
  if (both) {
    const cone = both[1]!.replace(/\s/g, '');
    const cup = wholeCup(cone, both[2]!.replace(/\s/g, ''));
    return cup === null ? null : taper(`${cone}/${cup}`, 'whole', both[0].length, [ofTwo]);
  }
  const single = lettersFirst.exec(words);
  if (!single) return null;
  const piece = pieceOfNumber(single[2]!);
  const half = {
    cone: `${ofTwo} This is the cone alone: a half, to be had with a cup that belongs to it.`,
    cup: `${ofTwo} This is the cup alone: a half, to be had with a cone that belongs to it.`,
    'unknown piece': `${ofTwo} The number does not tell which of the two this is.`,
  }[piece];
  return taper(single.slice(1).join(''), piece, single[0].length, [
    half,
    `Cups end in 10 to 29, cones in 30 to 49 ${fromMemory}`,
  ]);
}

function taper(basic: string, piece: InchReading['piece'], length: number, notes: readonly string[]): InchReading {
  return { system: 'inch taper', type: 'taper roller', letters: '', basic, piece, boreMm: null, length, notes };
}

function pieceOfNumber(figures: string): 'cone' | 'cup' | 'unknown piece' {
  const last = Number(figures.slice(-2));
  if (last >= 10 && last < 30) return 'cup';
  return last >= 30 && last < 50 ? 'cone' : 'unknown piece';
}

/** "LM11949/10" leaves out what the cup's number shares with the cone's: letters and first figures. */
function wholeCup(cone: string, cup: string): string | null {
  const coneFigures = /\d+/.exec(cone)?.[0] ?? '';
  const cupFigures = /\d+/.exec(cup)?.[0] ?? '';
  if (/^[A-Z]/.test(cup) && cupFigures.length >= coneFigures.length - 1 && cupFigures.length >= 4) return cup;
  if (cupFigures.length >= coneFigures.length) return cup;
  // A short cup after letters ("F/710" is the cone's F) keeps the cone's letters.
  if (/^[A-Z]/.test(cup)) return null;
  const letters = /^[A-Z]*/.exec(cone)![0];
  return `${letters}${coneFigures.slice(0, coneFigures.length - cupFigures.length)}${cup}`;
}
