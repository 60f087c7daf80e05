import { benchRoutes } from './bench-routes.js';
import { crossReferenceRoutes } from './cross-reference-routes.js';
import { jobsRoutes } from './jobs-routes.js';
import { storesRoutes } from './stores-routes.js';
import { storesWorkRoutes } from './stores-work-routes.js';

/** One route for each screen behind the door: address, search, screen. */
export const placeRoutes = [
  ...benchRoutes,
  ...storesRoutes,
  ...storesWorkRoutes,
  ...jobsRoutes,
  ...crossReferenceRoutes,
] as const;
