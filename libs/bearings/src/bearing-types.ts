/** What a bearing is, as far as a designation tells it. */
export type BearingType =
  | 'deep groove ball'
  | 'angular contact ball'
  | 'double row angular contact ball'
  | 'double row ball'
  | 'self-aligning ball'
  | 'four-point contact ball'
  | 'cylindrical roller'
  | 'double row cylindrical roller'
  | 'spherical roller'
  | 'taper roller'
  | 'needle roller'
  | 'thrust ball'
  | 'double direction thrust ball'
  | 'cylindrical roller thrust'
  | 'spherical roller thrust';

/** How a bearing holds the shaft endways. */
export type Locating = 'both ways' | 'one way' | 'not at all' | 'endways only';

const locatingOf: Record<BearingType, Locating | null> = {
  'deep groove ball': 'both ways',
  'angular contact ball': 'one way',
  'double row angular contact ball': 'both ways',
  'double row ball': 'both ways',
  'self-aligning ball': 'both ways',
  'four-point contact ball': 'both ways',
  // Depends on which rings have flanges: see `locating`.
  'cylindrical roller': null,
  'double row cylindrical roller': 'not at all',
  'spherical roller': 'both ways',
  'taper roller': 'one way',
  'needle roller': 'not at all',
  'thrust ball': 'endways only',
  'double direction thrust ball': 'endways only',
  'cylindrical roller thrust': 'endways only',
  'spherical roller thrust': 'endways only',
};

export const bearingTypes = Object.keys(locatingOf) as readonly BearingType[];

/** Flanges of cylindrical roller bearings by the letters of their type (DIN 5412-1, common practice). */
const flanges: Readonly<Record<string, Locating>> = {
  N: 'not at all',
  NU: 'not at all',
  RNU: 'not at all',
  RN: 'not at all',
  NJ: 'one way',
  NF: 'one way',
  NUP: 'both ways',
  LRJ: 'not at all',
  MRJ: 'not at all',
};

/** @param letters type letters such as "NUP"; empty where the type has a figure */
export function locating(type: BearingType, letters: string): Locating | null {
  return locatingOf[type] ?? flanges[letters] ?? null;
}

/** What a suffix can say something about. */
export const aspects = ['seals', 'groove', 'clearance', 'tolerance', 'cage', 'boreForm', 'design', 'other'] as const;
export type Aspect = (typeof aspects)[number];

/** One row of a table of suffixes: the standard's own, or a maker's that the workshop keeps. */
export interface SuffixRow {
  /** As marked, without what separates it: "2RS", "ZZ". */
  readonly suffix: string;
  readonly aspect: Aspect;
  /** For seals, groove, clearance, tolerance and bore form one of the values below; for the rest a word of its own. */
  readonly value: string;
  /** What a person reads. */
  readonly words: string;
  /** Whose suffix it is; empty where several makers use it alike. */
  readonly maker: string;
}

export const sealValues = [
  'open',
  'one shield',
  'two shields',
  'one contact seal',
  'two contact seals',
  'one low-friction seal',
  'two low-friction seals',
] as const;
export const grooveValues = ['none', 'groove', 'groove and ring'] as const;
export const clearanceValues = ['C1', 'C2', 'CN', 'C3', 'C4', 'C5'] as const;
/** From the coarsest to the finest (ISO 492). */
export const toleranceValues = ['P0', 'P6', 'P6X', 'P5', 'P4', 'P2'] as const;
export const boreFormValues = ['cylindrical', 'taper 1:12', 'taper 1:30'] as const;

/** What a suffix may say of an aspect; null where any word of its own will do. */
export const valuesOf: Readonly<Record<Aspect, readonly string[] | null>> = {
  seals: sealValues,
  groove: grooveValues,
  clearance: clearanceValues,
  tolerance: toleranceValues,
  boreForm: boreFormValues,
  cage: null,
  design: null,
  other: null,
};
