import * as z from 'zod';
import { Coded, Id, JobState, Quantity } from './base.js';

/** Something that a line counts on and nobody has reserved. */
export const CountedOn = z.object({
  lineId: Id,
  lineNo: z.number().int(),
  name: z.string(),
  number: z.string(),
  unitOfMeasure: z.string(),
  critical: z.boolean(),
  quantity: Quantity,
  /** the lot, or what is at an outworker; null where it is an order */
  thing: Coded.nullable(),
  receiptId: Id.nullable(),
  words: z.string(),
});
export type CountedOn = z.infer<typeof CountedOn>;

/** Over all open jobs, in the order in which they are served: what each could reserve as things are shared out now. */
export const ToReserve = z.object({
  jobs: z.array(z.object({ job: Coded, state: JobState, counted: z.array(CountedOn) })),
});
export type ToReserve = z.infer<typeof ToReserve>;
