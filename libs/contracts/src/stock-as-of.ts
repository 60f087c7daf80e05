import * as z from 'zod';
import { CodeText, Cursor, Id, Instant, Named, Quantity, UnitOfMeasure } from './base.js';
import { ThingKind } from './stores.js';

/** Stock as it was at an instant that has passed, to the millisecond; of everything that the workshop had, or of a place and all that stands in it. */
export const AsOfQuery = z.strictObject({
  at: z.iso.datetime({ offset: true, error: 'That is no day and time.' }),
  placeId: Id.optional(),
});
export type AsOfQuery = z.infer<typeof AsOfQuery>;
export const AsOfPageQuery = AsOfQuery.extend({ cursor: Cursor.optional() });

/** So much of a thing, where it lay then. Names, numbers and codes are those of today. */
export const AsOfLine = z.object({
  thingId: Id,
  kind: ThingKind,
  code: CodeText.nullable(),
  name: z.string(),
  detail: z.string(),
  quantity: Quantity,
  unitOfMeasure: UnitOfMeasure,
  where: z.object({ id: Id, name: z.string(), isPlace: z.boolean() }),
  /** whose it was then; null: the workshop's */
  owner: Named.nullable(),
});
export type AsOfLine = z.infer<typeof AsOfLine>;

const Head = z.object({
  at: Instant,
  place: Named.nullable(),
  /** false while something that was being written then is not through: a little may still be added */
  isSettled: z.boolean(),
});

/** By place in the order of their names, then by name; those that were with outworkers after all places. */
export const AsOfPage = Head.extend({ lines: z.array(AsOfLine), cursor: z.string().nullable() });
export type AsOfPage = z.infer<typeof AsOfPage>;

/** What things of one kind came to, in one unit of measure. */
export const AsOfSum = z.object({
  isCustomers: z.boolean(),
  kind: ThingKind,
  unitOfMeasure: UnitOfMeasure,
  things: z.number().int(),
  quantity: z.string().regex(/^\d+(\.\d{1,4})?$/),
});
export type AsOfSum = z.infer<typeof AsOfSum>;

export const AsOfTotals = Head.extend({
  /** holders that had something: places, trays, outworkers */
  places: z.number().int(),
  sums: z.array(AsOfSum),
});
export type AsOfTotals = z.infer<typeof AsOfTotals>;
