import * as z from 'zod';
import { BuildStandard, Id, Make, ShortText, Source } from './base.js';

/** The ways in which another part may come to serve, the plainest first. The part itself is always accepted. */
export const ServingWay = z.enum(['same as', 'superseding', 'will serve for']);
export type ServingWay = z.infer<typeof ServingWay>;

/** What a job that is built so accepts, where a line itself says nothing. An empty list of sources or makes accepts any. */
export const BuildStandardRules = z.object({
  id: Id,
  name: BuildStandard,
  ways: z.array(ServingWay),
  sources: z.array(Source),
  makes: z.array(Make),
  /** the letter of the least grade accepted; empty for any */
  gradeLeast: z.string(),
  version: z.number().int(),
});
export type BuildStandardRules = z.infer<typeof BuildStandardRules>;
export const BuildStandardList = z.object({ standards: z.array(BuildStandardRules) });

export const EditBuildStandard = z.strictObject({
  ways: z.array(ServingWay).max(3),
  sources: z.array(Source).max(7),
  makes: z.array(Make).max(5),
  gradeLeast: ShortText.default(''),
});
export type EditBuildStandard = z.infer<typeof EditBuildStandard>;
