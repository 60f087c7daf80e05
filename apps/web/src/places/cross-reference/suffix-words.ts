import type { Aspect } from '@corewright/bearings/bearing-types';

/** What a suffix can tell of, for people. */
export const aspectWords: Readonly<Record<Aspect, string>> = {
  seals: 'seals or shields',
  groove: 'a snap-ring groove',
  clearance: 'clearance',
  tolerance: 'tolerance class',
  cage: 'the cage',
  boreForm: 'the form of the bore',
  design: 'the inner design',
  other: 'something else',
};
