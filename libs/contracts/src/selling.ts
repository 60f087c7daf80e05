import * as z from 'zod';
import {
  Coded,
  CurrencyCode,
  Cursor,
  Id,
  Instant,
  Money,
  Named,
  PlainDate,
  Quantity,
  RequiredText,
  ShortText,
  UnitOfMeasure,
} from './base.js';

const QuantityKeyed = z.string().trim().min(1).max(20);
const linesMax = 50;

/** What stands on every receipt beside the workshop's name. The tax words are the workshop's own: what holds differs by country. */
export const ReceiptPaper = z.object({
  address: z.string(),
  taxWords: z.string(),
  footWords: z.string(),
  version: z.number().int(),
});
export type ReceiptPaper = z.infer<typeof ReceiptPaper>;
export const EditReceiptPaper = z.strictObject({
  address: z.string().trim().max(400).default(''),
  taxWords: z.string().trim().max(400).default(''),
  footWords: z.string().trim().max(400).default(''),
});
export type EditReceiptPaper = z.infer<typeof EditReceiptPaper>;

/** A part, or one thing, that is kept for the workshop's own jobs: not sold before somebody who keeps the books lifts it. */
export const KeptForJobs = z.object({ id: Id, reason: z.string(), by: z.string(), at: Instant, on: z.enum(['part', 'thing']) });
export type KeptForJobs = z.infer<typeof KeptForJobs>;
export const KeptForJobsList = z.object({ kept: z.array(KeptForJobs) });
export const KeepForJobs = z
  .strictObject({ id: Id, partId: Id.optional(), thingId: Id.optional(), reason: RequiredText })
  .refine((input) => (input.partId === undefined) !== (input.thingId === undefined), {
    error: 'Keep a part or one thing, not both.',
  });
export type KeepForJobs = z.infer<typeof KeepForJobs>;
export const LiftKeeping = z.strictObject({ why: RequiredText });
/** What is kept of one part, or of one thing and its part. */
export const KeptQuery = z.strictObject({ partId: Id.optional(), thingId: Id.optional() });

/** So many of a thing that is to be sold. */
const ToSell = z.strictObject({ thingId: Id, quantity: QuantityKeyed });

/** `lines`: ids of things and quantities, "id:2,id:1". */
export const SalePreviewQuery = z.strictObject({
  lines: z
    .string()
    .max(60 * linesMax)
    .transform((text) =>
      text
        .split(',')
        .filter((each) => each !== '')
        .map((each) => ({ thingId: each.slice(0, 36), quantity: each.slice(37) })),
    )
    .pipe(z.array(ToSell).min(1, 'Scan or find what is to be sold.').max(linesMax)),
});
export type SalePreviewQuery = z.infer<typeof SalePreviewQuery>;

/** Why a line cannot be sold, or not without a word. `mayBeLetGo`: whoever keeps the books may, with a reason that the receipt prints. */
export const SaleStop = z.object({ code: z.string(), title: z.string(), words: z.string(), mayBeLetGo: z.boolean() });
export type SaleStop = z.infer<typeof SaleStop>;

/** What a job has reserved and would lose. */
export const TakenFromJob = z.object({ job: Coded, dateGiven: PlainDate.nullable(), quantity: Quantity });
export type TakenFromJob = z.infer<typeof TakenFromJob>;

/** A line of a job that the sale would leave worse off: in which state so many of it were, and would be. */
export const LineWorseOff = z.object({
  lineId: Id,
  lineNo: z.number().int(),
  part: z.object({ id: Id, name: z.string(), number: z.string() }),
  critical: z.boolean(),
  before: z.string(),
  after: z.string(),
});
export type LineWorseOff = z.infer<typeof LineWorseOff>;
export const JobWorseOff = z.object({
  job: Coded,
  /** what the customer was told */
  dateGiven: PlainDate.nullable(),
  /** what can be promised now and would then be: a sentence each */
  dateNow: z.string(),
  dateThen: z.string(),
  lines: z.array(LineWorseOff),
});
export type JobWorseOff = z.infer<typeof JobWorseOff>;

export const SalePreviewLine = z.object({
  thing: Coded,
  unitOfMeasure: UnitOfMeasure,
  quantity: Quantity,
  /** in places of the stores */
  here: Quantity,
  free: Quantity,
  where: z.string(),
  stops: z.array(SaleStop),
  /** what is reserved and has to be taken for it */
  takes: z.array(TakenFromJob),
  /** the other parts of the set that it is bound in, and that go with it */
  goesWith: z.array(Coded),
});
export type SalePreviewLine = z.infer<typeof SalePreviewLine>;

/** What a sale would do, told before it is made. */
export const SalePreview = z.object({
  currency: CurrencyCode,
  lines: z.array(SalePreviewLine),
  jobs: z.array(JobWorseOff),
});
export type SalePreview = z.infer<typeof SalePreview>;

export const SellLine = z.strictObject({
  thingId: Id,
  quantity: QuantityKeyed,
  /** of all of the line, as it is keyed */
  price: z.string().trim().min(1, 'Key a price; 0 gives it away.').max(40),
  /** why it is let go although it is held back or past its storage life, over the name of whoever sells it; the receipt prints it */
  letGo: ShortText.default(''),
});
/**
 * A sale at the counter. `told`: the lines of jobs of which the seller was told that they would be worse off; another one refuses the sale.
 * `takeReason`: why what jobs have reserved is taken.
 */
export const Sell = z
  .strictObject({
    id: Id,
    lines: z.array(SellLine).min(1).max(linesMax),
    buyerId: Id.nullable().default(null),
    buyer: ShortText.default(''),
    paid: ShortText.default(''),
    note: ShortText.default(''),
    told: z.array(Id).max(1000).default([]),
    takeReason: ShortText.default(''),
  })
  .refine(({ lines }) => new Set(lines.map(({ thingId }) => thingId)).size === lines.length, {
    error: 'Each label stands on a receipt once: change its quantity instead.',
  });
export type Sell = z.infer<typeof Sell>;

export const SaleReturn = z.object({
  id: Id,
  quantity: Quantity,
  on: PlainDate,
  why: z.string(),
  money: z.string(),
  givenBack: Money,
  fitted: z.boolean(),
  newLot: Coded.nullable(),
  by: z.string(),
});
export const SaleLine = z.object({
  id: Id,
  lineNo: z.number().int(),
  thing: Coded,
  quantity: Quantity,
  unitOfMeasure: UnitOfMeasure,
  words: z.string(),
  said: z.string(),
  price: Money,
  letGo: z.object({ by: z.string(), why: z.string() }).nullable(),
  returns: z.array(SaleReturn),
});
export type SaleLine = z.infer<typeof SaleLine>;

export const SaleBrief = z.object({
  id: Id,
  number: z.number().int(),
  on: PlainDate,
  buyer: z.string(),
  currency: CurrencyCode,
  total: Money,
  givenBack: Money,
  takenBack: z.enum(['no', 'in part', 'all']),
  words: z.string(),
  by: z.string(),
});
export type SaleBrief = z.infer<typeof SaleBrief>;
export const Sale = SaleBrief.extend({
  firm: Named.nullable(),
  paid: z.string(),
  note: z.string(),
  at: Instant,
  lines: z.array(SaleLine),
});
export type Sale = z.infer<typeof Sale>;

export const SalesQuery = z.strictObject({ cursor: Cursor.optional(), from: PlainDate.optional(), to: PlainDate.optional() });
export type SalesQuery = z.infer<typeof SalesQuery>;
export const SaleList = z.object({ sales: z.array(SaleBrief), cursor: z.string().nullable() });
export type SaleList = z.infer<typeof SaleList>;

/** Of each day or month: what was sold, what it cost as far as that is known, and of how many lines nobody knows. */
export const TotalsQuery = z.strictObject({
  by: z.enum(['day', 'month']).default('day'),
  from: PlainDate.optional(),
  to: PlainDate.optional(),
});
export type TotalsQuery = z.infer<typeof TotalsQuery>;
export const SaleTotal = z.object({
  period: z.string(),
  receipts: z.number().int(),
  sold: Money,
  givenBack: Money,
  /** of the lines whose cost is known */
  cost: Money,
  /** what these lines brought, less what they cost */
  margin: Money,
  unknownCosts: z.number().int(),
});
export type SaleTotal = z.infer<typeof SaleTotal>;
export const SaleTotals = z.object({ currency: CurrencyCode, totals: z.array(SaleTotal) });
export type SaleTotals = z.infer<typeof SaleTotals>;

/** What each line of a sale cost; null where nobody knows. */
export const SaleCosts = z.object({
  currency: CurrencyCode,
  lines: z.array(z.object({ lineId: Id, cost: Money.nullable(), margin: Money.nullable() })),
});
export type SaleCosts = z.infer<typeof SaleCosts>;

/** Something comes back. `fitted`: it was in a unit meanwhile; a lot then comes back as a lot of its own, `newLotId`. */
export const TakeBackSold = z
  .strictObject({
    id: Id,
    lineId: Id,
    quantity: QuantityKeyed,
    placeId: Id,
    why: RequiredText,
    /** how the money went back, in words */
    money: ShortText.default(''),
    givenBack: z.string().trim().min(1, 'Key what was given back; 0 is nothing.').max(40),
    fitted: z.boolean(),
    newLotId: Id.nullable().default(null),
  })
  .refine(({ fitted, newLotId }) => fitted || newLotId === null, {
    error: 'Only what was fitted comes back as a lot of its own.',
  });
export type TakeBackSold = z.infer<typeof TakeBackSold>;

export const ReceiptQuery = z.strictObject({ paper: z.enum(['A4', 'roll']).default('A4') });
