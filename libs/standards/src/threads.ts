import { millimetresPerInch } from '@corewright/quantities/inch';

/** The series of screw threads that turn up on old and newer fasteners. */
export type ThreadSeries = 'BSW' | 'BSF' | 'UNC' | 'UNF' | 'BA' | 'M coarse' | 'M fine';

export interface Thread {
  readonly series: ThreadSeries;
  /** As it is said and stamped: "1/4 in BSF", "2 BA", "M10 x 1.25". */
  readonly name: string;
  /** Nominal outside diameter of the screw. */
  readonly majorMm: number;
  readonly pitchMm: number;
  /** Null where the standard gives a pitch. */
  readonly threadsPerInch: number | null;
  /** Degrees between the flanks. */
  readonly flankAngle: number;
}

export interface SeriesFacts {
  readonly flankAngle: number;
  /** What crest and root look like through a glass. */
  readonly form: string;
  /** Where the figures come from. */
  readonly source: string;
}

const unified = 'flat crests at 60 degrees';
const whitworth = 'rounded crests and roots at 55 degrees';

export const seriesFacts: Readonly<Record<ThreadSeries, SeriesFacts>> = {
  BSW: {
    flankAngle: 55,
    form: whitworth,
    source: 'BS 84 as restated in published thread tables; 3/8, 1/2, 5/8 and 1 1/4 from memory',
  },
  BSF: {
    flankAngle: 55,
    form: whitworth,
    source: 'BS 84 as restated in published thread tables; 9/32, 7/8 and 1 3/4 from memory',
  },
  UNC: {
    flankAngle: 60,
    form: unified,
    source: 'NBS Handbook H28 (1969); #1, #2, 1/2, 1 1/8, 1 3/8 and all above 1 1/2 from memory',
  },
  UNF: { flankAngle: 60, form: unified, source: 'NBS Handbook H28 (1969); 3/8, 1/2, 9/16 and 7/8 from memory' },
  BA: {
    flankAngle: 47.5,
    form: 'well rounded crests and roots at 47.5 degrees',
    source: 'the rule of BS 93: pitch 0.9^n mm, diameter 6 p^1.2 mm',
  },
  'M coarse': {
    flankAngle: 60,
    form: unified,
    source: 'ISO 261 as restated in published thread tables; M14, M16, M20 and M36 from memory',
  },
  'M fine': { flankAngle: 60, form: unified, source: 'ISO 261, from memory' },
};

// size in inches, then threads per inch
const inchSizes: Readonly<Record<'BSW' | 'BSF' | 'UNC' | 'UNF', string>> = {
  BSW: '1/16 60, 3/32 48, 1/8 40, 5/32 32, 3/16 24, 7/32 24, 1/4 20, 5/16 18, 3/8 16, 7/16 14, 1/2 12, 9/16 12, 5/8 11, 11/16 11, 3/4 10, 7/8 9, 1 8, 1-1/8 7, 1-1/4 7, 1-3/8 6, 1-1/2 6, 1-5/8 5, 1-3/4 5, 1-7/8 4.5, 2 4.5, 2-1/4 4, 2-1/2 4, 2-3/4 3.5',
  BSF: '3/16 32, 7/32 28, 1/4 26, 9/32 26, 5/16 22, 3/8 20, 7/16 18, 1/2 16, 9/16 16, 5/8 14, 11/16 14, 3/4 12, 13/16 12, 7/8 11, 1 10, 1-1/8 9, 1-1/4 9, 1-3/8 8, 1-1/2 8, 1-5/8 8, 1-3/4 7, 1-7/8 7, 2 7, 2-1/4 6, 2-1/2 6, 2-3/4 6',
  UNC: '#1 64, #2 56, #3 48, #4 40, #5 40, #6 32, #8 32, #10 24, #12 24, 1/4 20, 5/16 18, 3/8 16, 7/16 14, 1/2 13, 9/16 12, 5/8 11, 3/4 10, 7/8 9, 1 8, 1-1/8 7, 1-1/4 7, 1-3/8 6, 1-1/2 6, 1-3/4 5, 2 4.5, 2-1/4 4.5, 2-1/2 4, 2-3/4 4',
  UNF: '#0 80, #1 72, #2 64, #3 56, #4 48, #5 44, #6 40, #8 36, #10 32, #12 28, 1/4 28, 5/16 24, 3/8 24, 7/16 20, 1/2 20, 9/16 18, 5/8 18, 3/4 16, 7/8 14, 1 12, 1-1/8 12, 1-1/4 12, 1-3/8 12, 1-1/2 12',
};

// diameter, then pitch, both in mm
const metricSizes: Readonly<Record<'M coarse' | 'M fine', string>> = {
  'M coarse':
    '1 0.25, 1.2 0.25, 1.4 0.3, 1.6 0.35, 1.8 0.35, 2 0.4, 2.2 0.45, 2.5 0.45, 3 0.5, 3.5 0.6, 4 0.7, 4.5 0.75, 5 0.8, 6 1, 7 1, 8 1.25, 9 1.25, 10 1.5, 11 1.5, 12 1.75, 14 2, 16 2, 18 2.5, 20 2.5, 22 2.5, 24 3, 27 3, 30 3.5, 33 3.5, 36 4, 39 4, 42 4.5, 45 4.5, 48 5, 52 5, 56 5.5, 60 5.5, 64 6',
  'M fine':
    '8 1, 10 1, 10 1.25, 12 1.25, 12 1.5, 14 1.5, 16 1.5, 18 1.5, 18 2, 20 1.5, 20 2, 22 1.5, 22 2, 24 1.5, 24 2, 27 2, 30 2, 33 2, 36 3, 39 3',
};

/** Inches of "5/16", "1-1/4" or "2"; of a numbered size by its rule, 0.060 in and 0.013 in a number. */
function inchesOf(size: string): number {
  if (size.startsWith('#')) return 0.06 + 0.013 * Number(size.slice(1));
  return size.split('-').reduce((sum, piece) => {
    const [over = '0', under = '1'] = piece.split('/');
    return sum + Number(over) / Number(under);
  }, 0);
}

function pairsOf(list: string): [string, string][] {
  return list.split(', ').map((pair) => pair.split(' ') as [string, string]);
}

function inchThreads(series: keyof typeof inchSizes): Thread[] {
  return pairsOf(inchSizes[series]).map(([size, perInch]) => ({
    series,
    name: size.startsWith('#') ? `No. ${size.slice(1)} ${series}` : `${size.replace('-', ' ')} in ${series}`,
    majorMm: inchesOf(size) * millimetresPerInch,
    pitchMm: millimetresPerInch / Number(perInch),
    threadsPerInch: Number(perInch),
    flankAngle: seriesFacts[series].flankAngle,
  }));
}

function metricThreads(series: keyof typeof metricSizes): Thread[] {
  return pairsOf(metricSizes[series]).map(([size, pitch]) => ({
    series,
    name: `M${size} x ${pitch}`,
    majorMm: Number(size),
    pitchMm: Number(pitch),
    threadsPerInch: null,
    flankAngle: seriesFacts[series].flankAngle,
  }));
}

/** BS 93 rounds pitch and diameter to what its table prints: two figures, pitches to the hundredth of a millimetre. */
function associationThread(number: number): Thread {
  const pitch = 0.9 ** number;
  return {
    series: 'BA',
    name: `${number} BA`,
    majorMm: Number((6 * pitch ** 1.2).toPrecision(2)),
    pitchMm: Number(pitch.toFixed(2)),
    threadsPerInch: null,
    flankAngle: seriesFacts.BA.flankAngle,
  };
}

export const threads: readonly Thread[] = [
  ...inchThreads('BSW'),
  ...inchThreads('BSF'),
  ...inchThreads('UNC'),
  ...inchThreads('UNF'),
  ...Array.from({ length: 17 }, (_, number) => associationThread(number)),
  ...metricThreads('M coarse'),
  ...metricThreads('M fine'),
];
