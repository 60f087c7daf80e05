import * as z from 'zod';
import { Coded, CodeInput, Id, Instant, Make, PacketCondition, Quantity, RequiredText, ShortText } from './base.js';

/** One bag turns out to be two: so many of a lot, where they lie, become a lot of their own. */
export const SplitLot = z.strictObject({
  id: Id,
  quantity: Quantity,
  placeId: Id,
  /** a blank label, or one of several that the lot bears; null: a new code is given, and its label is printed */
  code: CodeInput.nullable(),
  why: RequiredText,
});
export type SplitLot = z.infer<typeof SplitLot>;

/** Two bags turn out to be one: this lot becomes part of the one that is named. */
export const MergeLot = z.strictObject({ into: CodeInput, why: RequiredText });
export type MergeLot = z.infer<typeof MergeLot>;

/** What became of two lots: the one that is there from now on, or the one that stays. */
export const LotRegrouped = z.object({ lot: Coded, words: z.string() });
export type LotRegrouped = z.infer<typeof LotRegrouped>;

export const RegroupingShown = z.object({
  id: Id,
  kind: z.enum(['split', 'merged']),
  from: Coded,
  to: Coded,
  quantity: Quantity,
  why: z.string(),
  by: z.string(),
  at: Instant,
});
export type RegroupingShown = z.infer<typeof RegroupingShown>;

/** What was split off was found to be something else: what it is said to be from now on. */
export const PutLotRight = z.strictObject({
  partId: Id.nullable(),
  words: ShortText,
  make: Make,
  makerName: ShortText,
  marks: ShortText,
  condition: ShortText,
  /** as it is read on the packet */
  packetRead: ShortText,
  packetCondition: PacketCondition,
  why: RequiredText,
});
export type PutLotRight = z.infer<typeof PutLotRight>;

/** What a lot was said to be before, and is since, in words. */
export const LotPutRight = z.object({ id: Id, words: z.string(), why: z.string(), by: z.string(), at: Instant });
export type LotPutRight = z.infer<typeof LotPutRight>;

/**
 * What was split off a lot, what became part of it, and what was put right of it, newest first; null `partOf` for one that is still a lot of
 * its own. One that was split off has no row of goods-in, so that it is put right by itself.
 */
export const Regroupings = z.object({
  partOf: Coded.nullable(),
  wasSplitOff: z.boolean(),
  changes: z.array(RegroupingShown),
  putRight: z.array(LotPutRight),
});
export type Regroupings = z.infer<typeof Regroupings>;
