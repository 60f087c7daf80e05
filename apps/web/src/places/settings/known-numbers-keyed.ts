import type { EditKnownNumbers, KnownBy } from '@corewright/contracts/identify';
import { type Mesh, ratioOf, sayRatio, whyNoTeeth } from '@corewright/gears/ratio';

export interface RangeKeyed {
  readonly prefix: string;
  readonly first: string;
  readonly last: string;
}
export interface GearKeyed {
  readonly gear: string;
  /** driver and driven of each mesh: "18/32 13/37" */
  readonly teeth: string;
}
export interface NumbersKeyed {
  readonly serials: readonly RangeKeyed[];
  readonly gears: readonly GearKeyed[];
}

export const noRange: RangeKeyed = { prefix: '', first: '', last: '' };
export const noGear: GearKeyed = { gear: '', teeth: '' };

export function numbersFrom({ serials, gears }: Pick<KnownBy, 'serials' | 'gears'>): NumbersKeyed {
  return {
    serials: serials.map(({ prefix, first, last }) => ({ prefix, first: String(first), last: String(last) })),
    gears: gears.map(({ gear, meshes }) => ({
      gear,
      teeth: meshes.map(({ driver, driven }) => `${driver}/${driven}`).join(' '),
    })),
  };
}

/** Meshes as they are keyed, driver first; null where they cannot be read. */
export function readMeshes(teeth: string): Mesh[] | null {
  const meshes = teeth
    .trim()
    .split(/\s+/)
    .map((mesh) => /^(\d{1,4})\/(\d{1,4})$/.exec(mesh))
    .map((found) => (found === null ? null : { driver: Number(found[1]), driven: Number(found[2]) }));
  if (meshes.length > 4) return null;
  return meshes.every((mesh) => mesh !== null && whyNoTeeth(mesh) === null) ? (meshes as Mesh[]) : null;
}

/** The ratio that the teeth come to, or how to key them. */
export function sayTeeth(teeth: string): string {
  const meshes = readMeshes(teeth);
  if (meshes === null) return 'driver/driven, as 4/31; several meshes set off by a space';
  return `${sayRatio(ratioOf(meshes))} : 1`;
}

const wholeOf = (text: string): number | null => (/^\s*\d{1,9}\s*$/.test(text) ? Number(text) : null);

export const rangeFault = ({ first, last }: RangeKeyed): string | null => {
  const [from, to] = [wholeOf(first), wholeOf(last)];
  if (from === null || to === null) return 'Key both as whole numbers, without the letters.';
  return to < from ? 'The last is less than the first. Key the lower number first.' : null;
};

/** What is sent; null while something cannot be read. What was left wholly empty is left out. */
export function numbersOf({ serials, gears }: NumbersKeyed): EditKnownNumbers | null {
  const ranges = serials.filter(({ prefix, first, last }) => `${prefix}${first}${last}`.trim() !== '');
  const named = gears.filter(({ gear, teeth }) => `${gear}${teeth}`.trim() !== '');
  if (ranges.some((range) => rangeFault(range) !== null) || named.some(({ teeth }) => readMeshes(teeth) === null)) return null;
  return {
    serials: ranges.map(({ prefix, first, last }) => ({ prefix, first: Number(first), last: Number(last) })),
    gears: named.map(({ gear, teeth }) => ({ gear, meshes: readMeshes(teeth) ?? [] })),
  };
}
