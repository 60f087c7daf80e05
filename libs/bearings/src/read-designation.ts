import { type Aspect, type BearingType, type Locating, locating, type SuffixRow } from './bearing-types.js';
import { type InchReading, readInch } from './inch-designations.js';
import { type ReadSuffix, readSuffixes, type Stopped } from './read-suffixes.js';
import { allowsSingleFigureBore, boreOfCode, letteredSeries, numericSeries, type Series, typeLetters } from './series.js';

export type BearingSystem = 'metric' | 'old metric' | 'ISO 355' | InchReading['system'];
export type Piece = InchReading['piece'];

/** A designation as far as it could be read. */
export interface Reading {
  readonly asGiven: string;
  /** null where nothing could be read. */
  readonly system: BearingSystem | null;
  readonly type: BearingType | null;
  /** Type letters such as "NUP", empty where the type is a figure. */
  readonly letters: string;
  /** As it stands in the table of dimensions: "6205", "NU 205", "LM11949/LM11910"; null where nothing could be read. */
  readonly basic: string | null;
  readonly dimensionSeries: string | null;
  readonly boreMm: number | null;
  /** Dimensions that the designation itself names: needle cages and drawn cups. */
  readonly named: { readonly outsideMm: number | null; readonly widthMm: number | null };
  readonly piece: Piece;
  readonly locating: Locating | null;
  readonly prefixes: readonly { readonly prefix: string; readonly words: string }[];
  readonly suffixes: readonly ReadSuffix[];
  readonly stopped: Stopped | null;
  /** Sentences: how the bore was read, what is a half, what cannot be read. */
  readonly notes: readonly string[];
}

/** Read from the front: type, series and bore, and how many characters that took. */
interface Front extends Omit<Reading, 'asGiven' | 'suffixes' | 'stopped' | 'locating' | 'prefixes'> {
  readonly length: number;
  /** Why the reading ends here, before the bore; suffixes after it would only be guessed at. */
  readonly endsHere?: string;
}

const unnamed = { outsideMm: null, widthMm: null };

/** Prefixes of DIN 623-1 and of common practice (from memory), the longest first. */
const prefixTable: readonly (readonly [pattern: RegExp, prefix: string, words: string])[] = [
  [/^F(?=\d)/, 'F', 'a flange on the outer ring (common practice, from memory)'],
  [/^S(?=\d)/, 'S', 'rings of stainless steel (common practice, from memory)'],
  [/^W(?=\d)/, 'W', 'rings of stainless steel (common practice, from memory)'],
];

/**
 * Reads a bearing's designation by ISO 15, ISO 355 and DIN 623-1, or as an inch one, as far as it goes.
 * @param makerRows makers' own suffixes as the workshop keeps them
 */
export function readDesignation(given: string, makerRows: readonly SuffixRow[]): Reading {
  const asGiven = given.trim();
  const words = asGiven.toUpperCase();
  const prefixed = prefixTable.find(([pattern]) => pattern.test(words));
  const from = prefixed ? prefixed[1].length : 0;
  const front = readFront(words.slice(from));
  if (front === null) return unread(asGiven, whyNothing(words));
  const prefixes = prefixed ? [{ prefix: prefixed[1], words: prefixed[2] }] : [];
  const basic = prefixed?.[1] === 'F' && front.basic !== null ? `F${front.basic}` : front.basic;
  const held = front.type === null ? null : locating(front.type, front.letters);
  const { length, endsHere, ...read } = front;
  const at = from + length;
  const { suffixes, stopped } =
    endsHere === undefined
      ? readSuffixes(asGiven, at, makerRows)
      : { suffixes: [], stopped: { at, rest: asGiven.slice(at), why: endsHere } };
  return { ...read, asGiven, basic, locating: held, prefixes, suffixes, stopped };
}

/**
 * The one value that the designation gives for an aspect. Where no suffix names it, a metric designation that was read to its end
 * means the plain form (DIN 623-1); in any other case it is not known: null. A cage without a suffix is the maker's choice.
 */
export function aspectOf(reading: Reading, aspect: Aspect): string | null {
  const found = reading.suffixes.find((suffix) => suffix.aspect === aspect);
  if (found) return found.value;
  if (reading.system !== 'metric' || reading.stopped !== null) return null;
  return plain[aspect] ?? null;
}

const plain: Partial<Record<Aspect, string>> = {
  seals: 'open',
  groove: 'none',
  clearance: 'CN',
  tolerance: 'P0',
  boreForm: 'cylindrical',
};

function unread(asGiven: string, why: string): Reading {
  return {
    asGiven,
    system: null,
    type: null,
    letters: '',
    basic: null,
    dimensionSeries: null,
    boreMm: null,
    named: unnamed,
    piece: 'unknown piece',
    locating: null,
    prefixes: [],
    suffixes: [],
    stopped: { at: 0, rest: asGiven, why },
    notes: [],
  };
}

function whyNothing(words: string): string {
  if (/^[LM]S[\s-]?\d/.test(words))
    return 'LS and MS number the old imperial sizes one after another: the bore cannot be read from them. Measure it.';
  if (/^\d{5}\d*$/.test(words))
    return 'No series of DIN 623-1 begins so. If it is an inch taper roller, give cone and cup: 25580/25520.';
  return 'No type and series of ISO 15, ISO 355, DIN 623-1 or the inch numbers begins so.';
}

function readFront(words: string): Front | null {
  return (
    readNamedByDimensions(words) ??
    readIso355(words) ??
    readLettered(words) ??
    inchFront(words) ??
    readOldMetric(words) ??
    readNumeric(words)
  );
}

function inchFront(words: string): Front | null {
  // A metric series before a slash has priority: 320/28 is no cone with a short cup.
  if (readNumeric(words)?.boreMm != null && !/^\d{4,}\s?\/\s?\d{4,}/.test(words)) return null;
  const read = readInch(words);
  return read === null ? null : { ...read, dimensionSeries: null, named: unnamed };
}

/** Needle cages K Fw x Ew x Bc, and drawn cups HK and BK with two figures of bore and two of width (common practice). */
function readNamedByDimensions(words: string): Front | null {
  const cage = /^K\s?(\d{1,3})\s?[X/]\s?(\d{1,3})\s?[X/]\s?(\d{1,3})(?!\d)/.exec(words);
  if (cage) {
    const [whole, bore = '', outside = '', width = ''] = cage;
    return named(`K${bore}X${outside}X${width}`, 'K', Number(bore), Number(outside), Number(width), whole.length);
  }
  const drawn = /^(HK|BK)\s?(\d\d)(\d\d)(?!\d)/.exec(words);
  if (!drawn) return null;
  const [whole, letters = '', bore = '', width = ''] = drawn;
  return named(`${letters} ${bore}${width}`, letters, Number(bore), null, Number(width), whole.length);
}

function named(basic: string, letters: string, boreMm: number, outsideMm: number | null, widthMm: number, length: number): Front {
  const notes = ['The designation names the dimensions themselves: the bore is the diameter over which the needles run.'];
  const type: BearingType = 'needle roller';
  return {
    system: 'metric',
    type,
    letters,
    basic,
    dimensionSeries: null,
    boreMm,
    named: { outsideMm, widthMm },
    piece: 'whole',
    notes,
    length,
  };
}

const oldWeights: Readonly<Record<string, string>> = { '2': 'light', '3': 'medium', '4': 'heavy' };

/** Three figures of old: light 2, medium 3 or heavy 4, and the bore code, without the type (common practice, from memory). */
function readOldMetric(words: string): Front | null {
  const match = /^([234])(\d\d)(?![\d/])/.exec(words);
  const bore = match ? boreOfCode(match[2]!) : null;
  if (!match || bore === null) return null;
  const [whole, figure = ''] = match;
  const notes = [
    `An old number of three figures: ${oldWeights[figure]} series, bore code ${match[2]} (common practice, from memory).`,
    'It does not tell the type: a single row deep groove ball bearing is taken. Look at the rolling elements.',
  ];
  return {
    system: 'old metric',
    type: 'deep groove ball',
    letters: '',
    basic: whole,
    dimensionSeries: `0${figure}`,
    boreMm: bore,
    named: unnamed,
    piece: 'whole',
    notes,
    length: whole.length,
  };
}

/** T, the angle series 2 to 7, diameter series A to G, width series A to E, the bore in three figures: T2EE040 (ISO 355). */
function readIso355(words: string): Front | null {
  const match = /^T\s?([2-7])\s?([A-G])\s?([A-E])\s?(\d{3})(?!\d)/.exec(words);
  if (!match) return null;
  const [whole, angle = '', diameter = '', width = '', bore = ''] = match;
  const dimensionSeries = `${angle}${diameter}${width}`;
  return {
    system: 'ISO 355',
    type: 'taper roller',
    letters: '',
    basic: `T${dimensionSeries}${bore}`,
    dimensionSeries,
    boreMm: Number(bore),
    named: unnamed,
    piece: 'whole',
    notes: [
      `Angle series ${angle}, diameter series ${diameter}, width series ${width}; the bore stands in millimetres (ISO 355).`,
    ],
    length: whole.length,
  };
}

const lettered = typeLetters.map((letters) => ({
  letters,
  pattern: new RegExp(`^${letters}[\\s-]?(\\d{1,2})(\\d\\d|\\s?/\\s?\\d{1,3})(?![\\d])`),
}));

function readLettered(words: string): Front | null {
  for (const { letters, pattern } of lettered) {
    const match = pattern.exec(words);
    if (!match) continue;
    const [whole, figures = '', code = ''] = match;
    const series = letteredSeries(letters, figures);
    if (series) return metric(series, letters, figures, code, whole.length);
  }
  return null;
}

function readNumeric(words: string): Front | null {
  const slashed = /^(\d{2,3})(\s?\/\s?\d{1,3}(?:\.\d)?)(?![\d])/.exec(words);
  if (slashed) return numericFront(slashed[1]!, slashed[2]!, slashed[0].length);
  const figures = /^\d+/.exec(words)?.[0] ?? '';
  if (figures.length === 3 && allowsSingleFigureBore(figures.slice(0, 2)))
    return numericFront(figures.slice(0, 2), figures.slice(2), 3);
  if (figures.length === 4 || figures.length === 5) return numericFront(figures.slice(0, -2), figures.slice(-2), figures.length);
  return null;
}

function numericFront(figures: string, code: string, length: number): Front | null {
  const series = numericSeries(figures);
  return series === null ? null : metric(series, '', figures, code, length);
}

function metric(series: Series, letters: string, figures: string, code: string, length: number): Front {
  const bore = series.boreUnread === undefined ? readBore(code) : { mm: null, note: series.boreUnread };
  const name = `${letters}${letters === '' ? '' : ' '}${figures}${code.replace(/\s/g, '')}`;
  const front = {
    system: 'metric' as const,
    type: series.type,
    letters,
    dimensionSeries: series.dimensionSeries,
    named: unnamed,
    piece: 'whole' as const,
  };
  if (bore !== null) return { ...front, basic: name, boreMm: bore.mm, notes: [bore.note], length };
  const endsHere = `"${code}" is no bore code: 00 to 96, or millimetres after a slash (ISO 15, DIN 623-1).`;
  return { ...front, basic: null, boreMm: null, notes: [], length: length - code.length, endsHere };
}

function readBore(code: string): { mm: number; note: string } | null {
  const slashed = /^\s?\/\s?(.+)$/.exec(code);
  if (slashed)
    return Number(slashed[1]) > 0 ? { mm: Number(slashed[1]), note: 'The bore stands in millimetres after the slash.' } : null;
  if (code.length === 1) return code === '0' ? null : { mm: Number(code), note: 'The last figure is the bore in millimetres.' };
  const mm = boreOfCode(code);
  if (mm === null) return null;
  const rule = Number(code) < 4 ? 'the codes 00, 01, 02, 03 mean 10, 12, 15, 17 mm' : 'five times the code';
  return { mm, note: `Bore code ${code}: ${mm} mm (${rule}; ISO 15, DIN 623-1).` };
}

/**
 * The name under which the table of dimensions holds it. Inch ball bearings, and thin metric ones of less than 10 mm of bore in their
 * short form, can be wider with shields or seals, so those stand there under a name of their own (ABMA 20 and common practice, from
 * memory); other metric ones keep their width.
 */
export function tableName(reading: Reading): string | null {
  const { basic } = reading;
  if (basic === null) return null;
  const seals = aspectOf(reading, 'seals');
  const isCapped = seals !== null && seals !== 'open';
  if (isCapped && (reading.system === 'inch ball' || /^6[789]\d$/.test(basic))) return `${basic}-2Z`;
  if (reading.system === 'old metric') return `6${basic}`;
  // The older short forms of 617, 618 and 619 (common practice): 6801 is 61801, and 684 is 618/4.
  return basic.replace(/^6([789])(\d\d)$/, '61$1$2').replace(/^6([789])(\d)$/, '61$1/$2');
}
