import * as z from 'zod';
import { CodeText, Id, Named, PlainDate, Quantity, StorageLife } from './base.js';

export const agedStandings = ['past', 'extendable', 'unknown date', 'ends soon'] as const;
/** How a lot stands on the day of the list; `ends soon` is within six months. */
export const AgedStanding = z.enum(agedStandings);
export type AgedStanding = z.infer<typeof AgedStanding>;

/** A lot whose age needs somebody to look at it. */
export const AgedLot = z.object({
  id: Id,
  code: CodeText,
  name: z.string(),
  number: z.string(),
  held: Quantity,
  owner: z.string().nullable(),
  heldBack: z.string().nullable(),
  standing: AgedStanding,
  /** the day on which its life ended or ends; null without a date */
  endsOn: PlainDate.nullable(),
  storageLife: StorageLife,
});
export type AgedLot = z.infer<typeof AgedLot>;

/** What is in stores now, as its age stands on a day, by the place where most of each lot lies. */
export const ShelfLife = z.object({
  on: PlainDate,
  counts: z.record(AgedStanding, z.number().int()),
  places: z.array(z.object({ place: Named.nullable(), lots: z.array(AgedLot) })),
  /** true when there are more than one answer holds: the oldest are here */
  more: z.boolean(),
});
export type ShelfLife = z.infer<typeof ShelfLife>;

/** The day of the list; today where none is given. */
export const ShelfLifeQuery = z.strictObject({ on: PlainDate.optional() });
