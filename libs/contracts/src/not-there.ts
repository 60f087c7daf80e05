import * as z from 'zod';
import { Id, Instant, RequiredText, ShortText } from './base.js';

/** Since when a thing is missing, who looked for it, and where. */
export const MissingShown = z.object({ since: Instant, by: z.string(), words: z.string() });
export type MissingShown = z.infer<typeof MissingShown>;

/** It was looked for where the books have it, and is not there. */
export const NotThere = z.strictObject({
  placeId: Id.nullable().describe('where it was looked for; null: in every place in which the books have it'),
  note: ShortText.default(''),
});
export type NotThere = z.infer<typeof NotThere>;

/** What was missing lies in a place of the stores. */
export const FoundHere = z.strictObject({ placeId: Id });
export type FoundHere = z.infer<typeof FoundHere>;

/** Nobody looks for it any longer: it leaves the books as lost. */
export const PostAway = z.strictObject({ reason: RequiredText });
export type PostAway = z.infer<typeof PostAway>;
