import type { Mesh } from '@corewright/gears/ratio';
import type { SerialRange } from './serial.js';

export const signKinds = ['stamp', 'casting', 'feature', 'count'] as const;
export type SignKind = (typeof signKinds)[number];

/** What a sign weighs as evidence. What is decisive, and was seen to be otherwise, rules the type out. */
export const signWeights = ['hint', 'good', 'decisive'] as const;
export type SignWeight = (typeof signWeights)[number];

/** Something by which a type is known. */
export interface Sign {
  kind: SignKind;
  /** where it is; of a count, what is counted */
  position: string;
  /** of a stamp or a casting number what stands there, with `?` and `*`; of a count the number; of a feature nothing */
  pattern: string;
  /** the years that it means, where it means any */
  yearFirst: number | null;
  yearLast: number | null;
  words: string;
  weight: SignWeight;
}

/** One ratio of a type: an axle has one without a name, a gearbox one for each gear. */
export interface GearOfType {
  gear: string;
  meshes: readonly Mesh[];
}

/** A unit type by what it is known by. */
export interface KnownType {
  id: string;
  name: string;
  maker: string;
  signs: readonly Sign[];
  serials: readonly SerialRange[];
  gears: readonly GearOfType[];
}

/** What was read and counted on a unit. Whatever was not is left empty. */
export interface Reading {
  /** the maker's name, as far as it stands there */
  maker: string;
  serial: string;
  /** whatever else is stamped, cast or painted */
  marks: readonly string[];
  castings: readonly string[];
  ratio: RatioRead | null;
  /** by the question that a feature is: whether it was seen to be so */
  features: Readonly<Record<string, boolean>>;
  /** by what was counted */
  counts: Readonly<Record<string, number>>;
}

/** By counted teeth, or by counted turns between two values. */
export type RatioRead = { meshes: readonly Mesh[] } | { least: number; most: number };

export const nothingRead: Reading = { maker: '', serial: '', marks: [], castings: [], ratio: null, features: {}, counts: {} };

/** What a sign asks whoever stands before the unit; two types with one question are told apart by one look. */
export function questionOf({ kind, position, words }: Pick<Sign, 'kind' | 'position' | 'words'>): string {
  return kind === 'count' ? position : words;
}
