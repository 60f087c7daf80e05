import * as z from 'zod';
import {
  Coded,
  CodeText,
  CurrencyCode,
  Id,
  Instant,
  Money,
  MoneyKeyed,
  Named,
  Quantity,
  RequiredText,
  ShortText,
} from './base.js';

/** How what a load cost is shared over what came with it. */
export const SharingWay = z.enum(['relative value', 'weight', 'equally', 'by hand']);
export type SharingWay = z.infer<typeof SharingWay>;

/** A part of a load's cost. */
export const CostPart = z.enum(['price', 'haulage', 'fees']);
export type CostPart = z.infer<typeof CostPart>;

/** A line of what the seller said was in it. It may name a type or a part, and is then compared with what was found of that. */
export const SaidLine = z.strictObject({
  words: RequiredText,
  quantity: z.number().int().min(1, 'Key how many were said to be there.').max(100_000),
  unitTypeId: Id.nullable().default(null),
  partId: Id.nullable().default(null),
});
export type SaidLine = z.infer<typeof SaidLine>;

/** What was paid. An empty amount is not known; nought is keyed as nought. The rate is what one unit of the currency came to in ours. */
export const EditLoadCost = z.strictObject({
  price: MoneyKeyed,
  haulage: MoneyKeyed,
  fees: MoneyKeyed,
  currency: CurrencyCode,
  rate: z.string().trim().max(24).default(''),
  said: z.array(SaidLine).max(200).default([]),
});
export type EditLoadCost = z.infer<typeof EditLoadCost>;

/** What all of a row is thought to be worth, in our currency, and what all of it weighs. Empty is not known. */
export const KeepRowWorth = z.strictObject({ worth: MoneyKeyed, weightKg: z.string().trim().max(20).default('') });

export const RowShare = z.object({ rowId: Id, amount: Money });
export type RowShare = z.infer<typeof RowShare>;

/**
 * Shares the cost. By hand the shares are what is decided. Otherwise they are what the person saw: if the server reckons
 * others by now, it refuses; without any it writes what it reckons.
 */
export const ShareLoadCost = z.strictObject({
  way: SharingWay,
  shares: z
    .array(z.strictObject({ rowId: Id, amount: Money }))
    .max(10_000)
    .default([]),
  why: ShortText.default(''),
});
export type ShareLoadCost = z.infer<typeof ShareLoadCost>;

export const CostRow = z.object({
  id: Id,
  code: CodeText,
  position: z.number().int(),
  name: z.string(),
  quantity: Quantity,
  /** why it bears no share; null where it does */
  bearsNone: z.string().nullable(),
  worth: Money.nullable(),
  weightKg: z.string().nullable(),
  /** the weight is that of its unit type: nobody has weighed this one */
  weightByType: z.boolean(),
  /** its share by what was written; null where it never bore one */
  share: Money.nullable(),
  /** version of its worth and weight */
  version: z.number().int(),
});
export type CostRow = z.infer<typeof CostRow>;

/** What the cost would come to by a way; nothing is written. By hand nothing is reckoned. */
export const SharingOffer = z.object({
  way: SharingWay,
  shares: z.array(RowShare).nullable(),
  /** why it cannot be shared so, and what to do */
  obstacle: z.string().nullable(),
  /** the rows on which that rests */
  rowIds: z.array(Id),
});
export type SharingOffer = z.infer<typeof SharingOffer>;

/** One time that the cost was shared, with what it changed. */
export const SharingShown = z.object({
  id: Id,
  at: Instant,
  by: z.string(),
  way: SharingWay,
  cost: Money,
  notKnown: z.array(CostPart),
  why: z.string(),
  changes: z.array(z.object({ rowId: Id, position: z.number().int(), code: CodeText, name: z.string(), amount: Money })),
});
export type SharingShown = z.infer<typeof SharingShown>;

/** What was said to be in a load beside what was found of it. */
export const FoundAgainstSaid = z.object({
  words: z.string(),
  /** null where nobody said a word of it */
  said: z.number().int().nullable(),
  /** null where it cannot be compared: it was said in words alone */
  found: Quantity.nullable(),
  difference: z.string(),
  agrees: z.boolean(),
});
export type FoundAgainstSaid = z.infer<typeof FoundAgainstSaid>;

export const LoadCost = z.object({
  id: Id,
  /** version of the load: the ETag of an edit of what was paid */
  version: z.number().int(),
  /** the workshop's currency, in which worths and shares are */
  ours: CurrencyCode,
  paidIn: CurrencyCode,
  price: Money.nullable(),
  haulage: Money.nullable(),
  fees: Money.nullable(),
  rate: z.string(),
  /** what is known of it, in the currency in which it was paid; null where the price is not known */
  paid: Money.nullable(),
  /** the same in ours */
  cost: Money.nullable(),
  notKnown: z.array(CostPart),
  rows: z.array(CostRow),
  offers: z.array(SharingOffer),
  /** newest first */
  sharings: z.array(SharingShown),
  /** why what was shared no longer fits; empty where it fits or nothing was shared */
  outOfDate: z.array(z.string()),
  said: z.array(SaidLine.extend({ referenceName: z.string() })),
  found: z.array(FoundAgainstSaid),
});
export type LoadCost = z.infer<typeof LoadCost>;

/**
 * What a unit or a box bore, and what of it was passed on to what came out of it. The first row is what is left in it; a row bears
 * none where it says so.
 */
export const PassedOn = z.object({
  id: Id,
  ours: CurrencyCode,
  /** null where nobody knows */
  bore: Money.nullable(),
  /** what it keeps of that */
  kept: Money.nullable(),
  /** why nothing can be passed on; null where it can */
  cannot: z.string().nullable(),
  rows: z.array(CostRow),
  offers: z.array(SharingOffer),
  /** newest first */
  sharings: z.array(SharingShown),
  /** why what was passed on no longer fits; empty where it fits or nothing was */
  outOfDate: z.array(z.string()),
});
export type PassedOn = z.infer<typeof PassedOn>;
export const PartOfWholeParam = z.strictObject({ id: Id, partId: Id });

/** A line of the value ledger. */
export const CostEntry = z.object({
  id: Id,
  at: Instant,
  by: z.string(),
  kind: z.enum(['load share', 'adjustment', 'passed on', 'opening stock']),
  amount: Money,
  load: Named.nullable(),
  /** the unit or the box whose cost was passed on, what it bore then, and by which way it was shared */
  passing: z.object({ whole: Coded, bore: Money, way: SharingWay }).nullable(),
  why: z.string(),
});
export type CostEntry = z.infer<typeof CostEntry>;

/** What a thing cost and where that comes from. */
export const ThingCost = z.object({
  currency: CurrencyCode,
  /** null where nobody knows */
  amount: Money.nullable(),
  /** what the figure rests on, or why there is none; a sentence */
  words: z.string(),
  /** a part of the cost that is not known, in words; empty where all of it is */
  notKnown: z.array(CostPart),
  /** the lot that this one was part of before it was fitted, whose cost it carries a part of */
  carriedFrom: z.object({ id: Id, code: CodeText, name: z.string() }).nullable(),
  /** the same cost by where the thing is, to the last minor unit */
  parts: z.array(z.object({ words: z.string(), quantity: Quantity, amount: Money })),
  /** newest first */
  entries: z.array(CostEntry),
});
export type ThingCost = z.infer<typeof ThingCost>;
