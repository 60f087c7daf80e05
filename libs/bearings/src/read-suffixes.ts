import type { Aspect, SuffixRow } from './bearing-types.js';

/** Where the reading stopped: what is left of the words as given, from which character on, and why. */
export interface Stopped {
  readonly at: number;
  readonly rest: string;
  readonly why: string;
}

export interface ReadSuffix {
  readonly suffix: string;
  readonly aspect: Aspect;
  readonly value: string;
  readonly words: string;
  readonly source: string;
}

export interface Suffixes {
  readonly suffixes: readonly ReadSuffix[];
  readonly stopped: Stopped | null;
}

const standard = 'DIN 623-1, from memory';

function row(suffix: string, aspect: Aspect, value: string, words: string): SuffixRow {
  return { suffix, aspect, value, words, maker: '' };
}

/** Suffixes of DIN 623-1 (from memory). Whatever else makers mark is data that the workshop keeps. */
const standardRows: readonly SuffixRow[] = [
  row('Z', 'seals', 'one shield', 'a shield on one side'),
  row('2Z', 'seals', 'two shields', 'shields on both sides'),
  row('RS', 'seals', 'one contact seal', 'a contact seal on one side'),
  row('2RS', 'seals', 'two contact seals', 'contact seals on both sides'),
  row('N', 'groove', 'groove', 'a groove for a snap ring in the outer ring'),
  row('NR', 'groove', 'groove and ring', 'a snap-ring groove with its ring'),
  row('K', 'boreForm', 'taper 1:12', 'a taper bore, 1 in 12'),
  row('K30', 'boreForm', 'taper 1:30', 'a taper bore, 1 in 30'),
  ...(['C1', 'C2', 'C3', 'C4', 'C5'] as const).map((value) =>
    row(value, 'clearance', value, `clearance ${value}, ${value < 'C3' ? 'less' : 'more'} than normal`),
  ),
  row('CN', 'clearance', 'CN', 'normal clearance'),
  row('C0', 'clearance', 'CN', 'normal clearance'),
  ...(['P0', 'P6', 'P6X', 'P5', 'P4', 'P2'] as const).map((value) => row(value, 'tolerance', value, `tolerance class ${value}`)),
  row('PN', 'tolerance', 'P0', 'normal tolerance class'),
  row('J', 'cage', 'steel', 'a pressed steel cage'),
  row('F', 'cage', 'steel', 'a machined steel cage'),
  row('Y', 'cage', 'brass', 'a pressed brass cage'),
  row('M', 'cage', 'brass', 'a machined brass cage'),
  row('MA', 'cage', 'brass', 'a machined brass cage, guided by the outer ring'),
  row('MB', 'cage', 'brass', 'a machined brass cage, guided by the inner ring'),
  row('L', 'cage', 'light alloy', 'a machined light alloy cage'),
  row('T', 'cage', 'fabric', 'a cage of fabric-laminated resin'),
  row('TN', 'cage', 'polyamide', 'a moulded polyamide cage'),
  row('X', 'design', 'X', 'boundary dimensions changed to the ISO plan'),
  ...(['A', 'B', 'C', 'D', 'E'] as const).map((value) => row(value, 'design', value, `inner design ${value}`)),
  ...(['S0', 'S1', 'S2', 'S3', 'S4'] as const).map((value) => row(value, 'other', value, `rings made stable for heat, ${value}`)),
];

/** Put in order once for a table, for thousands of numbers are read with the same one. */
const ordered = new WeakMap<readonly SuffixRow[], readonly Marked[]>();

/** A row with its suffix in capitals, as it is compared. */
interface Marked {
  readonly row: SuffixRow;
  readonly mark: string;
}

function longestFirst(makerRows: readonly SuffixRow[]): readonly Marked[] {
  const known = ordered.get(makerRows);
  if (known !== undefined) return known;
  const rows = [...makerRows, ...standardRows]
    .sort((one, other) => other.suffix.length - one.suffix.length)
    .map((each) => ({ row: each, mark: each.suffix.toUpperCase() }));
  ordered.set(makerRows, rows);
  return rows;
}

/** P63 is P6 with C3: the class and the figure of the clearance run together. */
const runTogether = /^(P[2456])([1-5])(?!\d)/;

/**
 * Reads suffixes from where the bore code ended. A maker's row comes before the standard's of the same length, since the workshop
 * wrote it knowing the maker.
 * @param words the whole designation as given
 * @param from the character after the bore code
 */
export function readSuffixes(words: string, from: number, makerRows: readonly SuffixRow[]): Suffixes {
  const rows = longestFirst(makerRows);
  const suffixes: ReadSuffix[] = [];
  let at = from;
  for (;;) {
    at += /^[\s\-./,+()]*/.exec(words.slice(at))![0].length;
    if (at >= words.length) return { suffixes, stopped: null };
    const step = stepAt(words.slice(at).toUpperCase(), rows);
    if (step === null) return { suffixes, stopped: stop(words, at) };
    const clash = step.read.find((read) => contradicts(read, suffixes));
    if (clash) return { suffixes, stopped: contradictionAt(words, at, clash, suffixes) };
    suffixes.push(...step.read);
    at += step.length;
  }
}

function stepAt(rest: string, rows: readonly Marked[]): { read: ReadSuffix[]; length: number } | null {
  const together = runTogether.exec(rest);
  if (together) {
    const [whole, tolerance = '', figure = ''] = together;
    return { read: [byName(tolerance), byName(`C${figure}`)], length: whole.length };
  }
  const token = /^[A-Z0-9:]+/.exec(rest)?.[0] ?? '';
  const found = rows.find(({ mark }) => token.startsWith(mark) && isReadable(token, mark.length, rows));
  return found ? { read: [readOf(found.row)], length: found.mark.length } : null;
}

/** A suffix is taken from a run of letters only where the whole run can be read: "TVH" is not a fabric cage with something. */
function isReadable(token: string, length: number, rows: readonly Marked[]): boolean {
  const rest = token.slice(length);
  if (rest === '') return true;
  const together = runTogether.exec(rest);
  if (together) return isReadable(rest, together[0].length, rows);
  return rows.some(({ mark }) => rest.startsWith(mark) && isReadable(rest, mark.length, rows));
}

function byName(suffix: string): ReadSuffix {
  return readOf(standardRows.find((each) => each.suffix === suffix)!);
}

function readOf(found: SuffixRow): ReadSuffix {
  const isStandard = standardRows.includes(found);
  const source = isStandard ? standard : found.maker === '' ? "the workshop's table of suffixes" : found.maker;
  return { suffix: found.suffix, aspect: found.aspect, value: found.value, words: found.words, source };
}

/** Only one value of these can be true of a bearing. */
const single: ReadonlySet<Aspect> = new Set(['seals', 'clearance', 'tolerance', 'boreForm']);

function contradicts(read: ReadSuffix, before: readonly ReadSuffix[]): boolean {
  // Z after Z would be a maker's way to say both sides: only the workshop's table may say so.
  const repeats = (each: ReadSuffix): boolean => read.aspect === 'seals' || each.value !== read.value;
  return single.has(read.aspect) && before.some((each) => each.aspect === read.aspect && repeats(each));
}

function contradictionAt(words: string, at: number, clash: ReadSuffix, before: readonly ReadSuffix[]): Stopped {
  const earlier = before.find((each) => each.aspect === clash.aspect)!;
  return { at, rest: words.slice(at), why: `"${clash.suffix}" does not go with "${earlier.suffix}" before it.` };
}

function stop(words: string, at: number): Stopped {
  const rest = words.slice(at);
  return {
    at,
    rest,
    why: `"${rest}" is no suffix of DIN 623-1 that is known here, and no row of the workshop's table of makers' suffixes.`,
  };
}
