import * as z from 'zod';
import { Coded, Id, Instant, PlainDate, Quantity, RequiredText, ShortText, UnitOfMeasure } from './base.js';

/** As a person keys it; it is read by the unit in which the part is counted. */
const QuantityKeyed = z.string().trim().min(1).max(20);

/** So many of a thing for a line. A whole unit is reserved for the job and no line: `lineId` is null. */
const OfThing = z.strictObject({ lineId: Id.nullable(), quantity: QuantityKeyed, thingId: Id });
/** So many of what is on order for a line. */
const OfReceipt = z.strictObject({ lineId: Id, quantity: QuantityKeyed, receiptId: Id });
export const LineToReserve = z.union([OfThing, OfReceipt]);
export type LineToReserve = z.infer<typeof LineToReserve>;

/** For one line or for many, all or none. `until`: the last day on which it holds; null is firm, but for an estimate. */
export const Reserve = z.strictObject({ until: PlainDate.nullable(), lines: z.array(LineToReserve).min(1).max(200) });
export type Reserve = z.infer<typeof Reserve>;

export const Reserved = z.object({
  jobId: Id,
  until: PlainDate.nullable(),
  words: z.string(),
  lines: z.array(
    z.object({
      lineId: Id.nullable(),
      lineNo: z.number().int().nullable(),
      thingId: Id.nullable(),
      receiptId: Id.nullable(),
      quantity: Quantity,
    }),
  ),
});
export type Reserved = z.infer<typeof Reserved>;

/** What stands in the way of one of the lines; the `values` of the refusal hold all of these as `problems`. */
export const ReservationProblem = z.object({
  lineId: Id.nullable(),
  lineNo: z.number().int().nullable(),
  thingId: Id.nullable(),
  receiptId: Id.nullable(),
  code: z.string(),
  words: z.string(),
  /** who has it */
  otherJob: Coded.nullable(),
});
export type ReservationProblem = z.infer<typeof ReservationProblem>;

const part = { quantity: QuantityKeyed.optional(), reason: ShortText.default('') };
/** Without a quantity, all that does not lie in the job's tray. */
export const ReleaseReservation = z.union([
  z.strictObject({ claimId: Id, ...part }),
  z.strictObject({ expectedClaimId: Id, ...part }),
]);
export type ReleaseReservation = z.infer<typeof ReleaseReservation>;
export const Released = z.object({ jobId: Id, quantity: Quantity, words: z.string() });
export type Released = z.infer<typeof Released>;

const taking = { fromJobId: Id, toJobId: Id, quantity: QuantityKeyed, reason: RequiredText };
/** From one job for a line of another, with a reason that both are told. */
export const TakeReservation = z.union([
  z.strictObject({ thingId: Id, lineId: Id.nullable(), ...taking }),
  z.strictObject({ receiptId: Id, lineId: Id, ...taking }),
]);
export type TakeReservation = z.infer<typeof TakeReservation>;
export const Taken = z.object({ fromJobId: Id, toJobId: Id, quantity: Quantity, until: PlainDate.nullable(), words: z.string() });
export type Taken = z.infer<typeof Taken>;

export const Reservation = z.object({
  /** one of the two: by it the reservation is released */
  claimId: Id.nullable(),
  expectedClaimId: Id.nullable(),
  line: z.object({ id: Id, lineNo: z.number().int(), name: z.string() }).nullable(),
  thing: Coded.nullable(),
  receipt: z
    .object({ id: Id, orderReference: z.string(), supplier: z.string(), dueOn: PlainDate.nullable(), confirmed: z.boolean() })
    .nullable(),
  /** what it is, as its part is called */
  name: z.string(),
  where: z.string(),
  quantity: Quantity,
  /** of these, in the job's tray: put back at the bench, not released */
  inTray: Quantity,
  unitOfMeasure: UnitOfMeasure,
  by: z.string(),
  since: Instant,
  until: PlainDate.nullable(),
  /** what has changed since that would stand in its way now, such as a relation that was withdrawn; empty for nearly all */
  doubt: z.string(),
});
export type Reservation = z.infer<typeof Reservation>;
export const ReservationList = z.object({ jobId: Id, reservations: z.array(Reservation) });
export type ReservationList = z.infer<typeof ReservationList>;
