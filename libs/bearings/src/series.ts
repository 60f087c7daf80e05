import type { BearingType } from './bearing-types.js';

/** What the figures before the bore code mean: type and dimension series (width series, then diameter series). */
export interface Series {
  readonly type: BearingType;
  /** ISO 15 or ISO 104 dimension series, such as "02"; null where the series is not of that plan. */
  readonly dimensionSeries: string | null;
  /** The bore code counts otherwise than ISO 15's fives: said instead of read. */
  readonly boreUnread?: string;
}

const deepGroove: BearingType = 'deep groove ball';
const doubleDirection =
  'The code of a double direction thrust bearing names the housing washer, not the bore of the shaft washer.';

function group(type: BearingType, plan: Record<string, string>, boreUnread?: string): [string, Series][] {
  return Object.entries(plan).map(([figures, dimensionSeries]) => [
    figures,
    { type, dimensionSeries, ...(boreUnread !== undefined && { boreUnread }) },
  ]);
}

/**
 * Series with figures alone, by DIN 623-1 (from memory), with the older short forms 67, 68, 69 of 617, 618, 619 (common practice).
 * The figures before two of the bore code; see `numericSeries` for how long they may be.
 */
const numeric: ReadonlyMap<string, Series> = new Map([
  ...group(deepGroove, { '60': '10', '62': '02', '63': '03', '64': '04', '160': '00', '161': '10', '617': '17', '618': '18' }),
  ...group(deepGroove, {
    '619': '19',
    '628': '28',
    '637': '37',
    '638': '38',
    '639': '39',
    '622': '22',
    '623': '23',
    '630': '30',
  }),
  ...group(deepGroove, { '67': '17', '68': '18', '69': '19' }),
  ...group('self-aligning ball', { '10': '10', '12': '02', '13': '03', '22': '22', '23': '23' }),
  ...group('angular contact ball', { '70': '10', '72': '02', '73': '03', '74': '04', '718': '18', '719': '19' }),
  ...group('double row angular contact ball', { '30': '30', '32': '32', '33': '33' }),
  ...group('double row ball', { '42': '22', '43': '23' }),
  ...group('spherical roller', { '213': '03', '222': '22', '223': '23', '230': '30', '231': '31', '232': '32', '233': '33' }),
  ...group('spherical roller', { '238': '38', '239': '39', '240': '40', '241': '41', '248': '48', '249': '49' }),
  ...group('spherical roller thrust', { '292': '92', '293': '93', '294': '94' }),
  ...group('taper roller', { '302': '02', '303': '03', '313': '13', '320': '20', '322': '22', '323': '23' }),
  ...group('taper roller', { '329': '29', '330': '30', '331': '31', '332': '32' }),
  ...group('thrust ball', { '511': '11', '512': '12', '513': '13', '514': '14', '532': '02', '533': '03', '534': '04' }),
  ...group('double direction thrust ball', { '522': '22', '523': '23', '524': '24' }, doubleDirection),
  ...group('cylindrical roller thrust', { '811': '11', '812': '12', '874': '74', '893': '93', '894': '94' }),
]);

/** Two figures and a bore of one figure in millimetres: 608, 623, 126. */
const singleFigureBores: ReadonlySet<string> = new Set(['60', '62', '63', '67', '68', '69', '10', '12', '13']);

/** Letters of the type, with the series that may follow. The older single figure means width series 0. */
const lettered: Readonly<Record<string, { type: BearingType; plan: Readonly<Record<string, string>> }>> = (() => {
  const roller = { type: 'cylindrical roller' as const, plan: rollerPlan() };
  const double = { type: 'double row cylindrical roller' as const, plan: { '30': '30', '49': '49', '41': '41', '40': '40' } };
  const needle = { type: 'needle roller' as const, plan: { '48': '48', '49': '49', '69': '69' } };
  return {
    ...Object.fromEntries(['N', 'NU', 'NJ', 'NUP', 'NF', 'RN', 'RNU'].map((letters) => [letters, roller])),
    NN: double,
    NNU: double,
    NA: needle,
    RNA: needle,
    QJ: { type: 'four-point contact ball' as const, plan: { '2': '02', '3': '03', '10': '10' } },
  };
})();

function rollerPlan(): Record<string, string> {
  return { '2': '02', '3': '03', '4': '04', '10': '10', '18': '18', '19': '19', '20': '20', '22': '22', '23': '23', '29': '29' };
}

export const typeLetters: readonly string[] = Object.keys(lettered).sort((one, other) => other.length - one.length);

export function letteredSeries(letters: string, figures: string): Series | null {
  const found = lettered[letters];
  const dimensionSeries = found?.plan[figures];
  return found && dimensionSeries !== undefined ? { type: found.type, dimensionSeries } : null;
}

export function numericSeries(figures: string): Series | null {
  return numeric.get(figures) ?? null;
}

export function allowsSingleFigureBore(figures: string): boolean {
  return singleFigureBores.has(figures);
}

const smallBores: Readonly<Record<string, number>> = { '00': 10, '01': 12, '02': 15, '03': 17 };

/** Millimetres of a bore code of two figures (ISO 15 and DIN 623-1): 00 to 03 by name, 04 to 96 times five; null for no code. */
export function boreOfCode(code: string): number | null {
  if (!/^\d\d$/.test(code)) return null;
  const small = smallBores[code];
  if (small !== undefined) return small;
  const count = Number(code);
  return count >= 4 && count <= 96 ? count * 5 : null;
}
