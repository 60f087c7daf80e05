import type { WorkshopSize } from './workshop-data.js';

/** Far above what a small workshop will ever hold. */
export const large: WorkshopSize = { lots: 100_000, units: 20_000, jobs: 500, parts: 10_000, bins: 2_000 };

/** The same with a tenth of the lots. */
export const tenthOfLots: WorkshopSize = { ...large, lots: 10_000 };
