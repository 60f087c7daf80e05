import type { WorkshopSize } from './workshop-data.js';

/** Far above what a small workshop will ever hold. */
export const large: WorkshopSize = { lots: 100_000, units: 20_000, jobs: 500, parts: 10_000, bins: 2_000 };

/** The same with a tenth of the lots. */
export const tenthOfLots: WorkshopSize = { ...large, lots: 10_000 };

/** A catalogue of all that twelve makers ever numbered, with stock of one part in ten. */
export const largeCatalogue: WorkshopSize = {
  lots: 60_000,
  units: 1_000,
  jobs: 20,
  parts: 900_000,
  bins: 2_000,
  numbers: 1_000_000,
};

/** A lifetime of cores, each of them taken apart. */
export const strippedDown: WorkshopSize = { lots: 2_000, units: 20_000, jobs: 10, parts: 1_000, bins: 400, isStripped: true };

/** A lifetime of movements. */
export const longHistory: WorkshopSize = {
  lots: 200_000,
  units: 20_000,
  jobs: 20,
  parts: 40_000,
  bins: 20_000,
  movements: 5_000_000,
};
