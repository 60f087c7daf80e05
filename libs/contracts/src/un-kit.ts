import * as z from 'zod';
import { Coded, CodeText, Id, Instant, Quantity, UnitOfMeasure } from './base.js';

/** What becomes of what was promised to the job: reserved again as far as it was before it was fetched, or given up. */
export const ClaimsAfter = z.enum(['as before', 'given up']);
export type ClaimsAfter = z.infer<typeof ClaimsAfter>;

const PlaceShown = z.object({ id: Id, code: CodeText, name: z.string(), path: z.string() });

/** So many of a thing that lie in the tray and came from one place. */
export const TrayRow = z.object({
  thing: Coded,
  unitOfMeasure: UnitOfMeasure,
  quantity: Quantity,
  /** null: it never lay in a place, and somebody has to say where it goes */
  from: PlaceShown.nullable(),
  /** how it came into the tray, in words */
  words: z.string(),
  /** so many of these the job had reserved before they were fetched */
  reserved: Quantity,
});
export type TrayRow = z.infer<typeof TrayRow>;

/** What lies in a job's tray, in the walking order of where it came from. */
export const TrayContents = z.object({
  job: Coded,
  state: z.string(),
  tray: Coded,
  /** a job that is closed keeps nothing reserved */
  mustGiveUp: z.boolean(),
  rows: z.array(TrayRow),
  /** the last time that something went back from this tray, as long as that can be undone */
  last: z.object({ id: Id, at: Instant, by: z.string(), words: z.string() }).nullable(),
});
export type TrayContents = z.infer<typeof TrayContents>;

/** What goes back, and where; all of it in one act. */
export const UnKit = z.strictObject({
  id: Id,
  claims: ClaimsAfter,
  rows: z
    .array(z.strictObject({ thingId: Id, placeId: Id, quantity: Quantity }))
    .min(1, 'Say what goes back.')
    .max(500),
});
export type UnKit = z.infer<typeof UnKit>;
export const UnKitDone = z.object({ id: Id, jobId: Id, words: z.string() });
export type UnKitDone = z.infer<typeof UnKitDone>;
export const UndoUnKit = z.strictObject({ id: Id });
