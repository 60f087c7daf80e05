import { oneText } from '../../routes/search.js';

export const outputs = ['wheel', 'held'] as const;
/** What turned at the output: both sides or the wheel itself, or one side with the other held. */
export type OutputAsked = (typeof outputs)[number];

/** What is asked about a ratio, as the address keeps it. */
export interface RatioAsked {
  /** Meshes in turn, driver and driven: "8/39", "17/34 14/36"; empty where no teeth were counted. */
  readonly teeth: string;
  /** Turns as keyed; empty where none were counted. */
  readonly input: string;
  readonly off: string;
  readonly output: string;
  readonly side: OutputAsked;
  /** Between how many teeth to look for pairs: "6 to 14". */
  readonly drivers: string;
  readonly drivens: string;
}

/** An eighth of a turn is what a chalk mark is read to; the teeth are those of most axles. Both common practice, and both can be keyed. */
export const noRatioAsked: RatioAsked = {
  teeth: '',
  input: '',
  off: '1/8',
  output: '1',
  side: 'wheel',
  drivers: '4 to 16',
  drivens: '25 to 60',
};

/** One mesh as it is keyed. */
export interface MeshKeyed {
  readonly driver: string;
  readonly driven: string;
}

export const meshesMax = 4;
export const noMesh: MeshKeyed = { driver: '', driven: '' };

/** The meshes out of the address; one empty one where there are none. */
export function meshesAsked(teeth: string): MeshKeyed[] {
  const meshes = teeth
    .split(' ')
    .filter((each) => each !== '')
    .slice(0, meshesMax)
    .map((each) => {
      const [driver = '', driven = ''] = each.split('/');
      return { driver, driven };
    });
  return meshes.length === 0 ? [noMesh] : meshes;
}

/** What of the meshes is keyed, for the address. */
export function teethOf(meshes: readonly MeshKeyed[]): string {
  return meshes
    .map(({ driver, driven }) => ({ driver: driver.replace(/[\s/]/g, ''), driven: driven.replace(/[\s/]/g, '') }))
    .filter(({ driver, driven }) => driver !== '' || driven !== '')
    .map(({ driver, driven }) => `${driver}/${driven}`)
    .join(' ');
}

/** Reads the address; what is none of the choices is left out. */
export function readRatioAsked(search: Record<string, unknown>): Partial<RatioAsked> {
  const side = outputs.find((each) => each === search.side);
  return {
    ...oneText(search, 'teeth'),
    ...oneText(search, 'input'),
    ...oneText(search, 'off'),
    ...oneText(search, 'output'),
    ...oneText(search, 'drivers'),
    ...oneText(search, 'drivens'),
    ...(side === undefined ? {} : { side }),
  };
}
