import * as z from 'zod';
import { Coded, Cursor, Id, LongText, Make, Named, PacketCondition, PlainDate, RequiredText, ShortText, Source } from './base.js';

/** Something ordered that has not come, or not all of it. */
export const Receipt = z.object({
  id: Id,
  orderReference: z.string(),
  supplier: Named,
  part: z.object({ id: Id, name: z.string(), number: z.string() }),
  quantity: z.string(),
  quantityReceived: z.string(),
  dueOn: PlainDate.nullable(),
  confirmed: z.boolean(),
  forJob: Coded.nullable(),
  calledOff: z.boolean(),
  note: z.string(),
  version: z.number().int(),
});
export type Receipt = z.infer<typeof Receipt>;
export const ReceiptList = z.object({ receipts: z.array(Receipt), cursor: z.string().nullable() });
/** `open`: neither called off nor come in full. */
export const ReceiptQuery = z.strictObject({
  open: z.enum(['yes', 'no']).optional(),
  partId: Id.optional(),
  limit: z.coerce.number().int().min(1).max(200).default(100),
  cursor: Cursor.optional(),
});
export const AddReceipt = z.strictObject({
  id: Id,
  orderReference: RequiredText,
  supplierName: RequiredText,
  partId: Id,
  quantity: z.string().trim().min(1).max(20),
  dueOn: PlainDate.nullable(),
  confirmed: z.boolean(),
  forJobId: Id.nullable(),
  note: LongText.default(''),
});
/** Without a quantity, as many stay ordered as were. */
export const EditReceipt = z.strictObject({
  quantity: z.string().trim().min(1).max(20).optional(),
  dueOn: PlainDate.nullable(),
  confirmed: z.boolean(),
  forJobId: Id.nullable(),
  calledOff: z.boolean(),
  note: LongText,
});
/** Goods of an order have come: they become a lot with a label of its own. */
export const Arrival = z.strictObject({
  lotId: Id,
  quantity: z.string().trim().min(1).max(20),
  placeId: Id,
  source: Source,
  make: Make,
  packetRead: ShortText.default(''),
  packetCondition: PacketCondition.default('none'),
  condition: ShortText.default(''),
});
export const Arrived = z.object({ lot: Coded, outstanding: z.string() });
