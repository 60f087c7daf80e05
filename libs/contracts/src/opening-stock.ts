import * as z from 'zod';
import {
  Coded,
  CodeInput,
  CodeText,
  Id,
  Instant,
  LongText,
  Make,
  Money,
  MoneyKeyed,
  Named,
  PacketCondition,
  Quantity,
  RequiredText,
  ShortText,
  Source,
} from './base.js';
import { AddPlace, PlaceBrief } from './stores.js';

/** How far a place is: nobody has begun it, somebody is at it, or what lies there is in the books. */
export const ShelfState = z.enum(['not yet', 'begun', 'done']);
export type ShelfState = z.infer<typeof ShelfState>;

/** What is known of a row: to be named, named, left for whoever is asked around, to scrap, or struck out as a mistake. */
export const OpeningStanding = z.enum(['to name', 'named', 'asked', 'scrapped', 'struck out']);
export type OpeningStanding = z.infer<typeof OpeningStanding>;

/** What is known of its cost. "unknown" is what somebody looked at and could not say, which is not nought. */
export const CostStanding = z.enum(['not looked at', 'unknown', 'estimate', 'figure']);
export type CostStanding = z.infer<typeof CostStanding>;

/** A count from which on it is asked whether it is one. */
export const countAskedFrom = 1000;

/**
 * What is keyed at the shelf, as little as that. `id` is in the path. `code` is that of a label which is on it; null gives it the next. With `jobId`
 * it was taken onto that job from a shelf that is not in the books yet. `photographed` stands in for words. `sure` says that a large count is meant.
 */
export const KeepOpeningRow = z.strictObject({
  placeId: Id,
  jobId: Id.nullable().default(null),
  code: CodeInput.nullable().default(null),
  kind: z.enum(['unit', 'lot', 'unsorted']),
  words: ShortText.default(''),
  partId: Id.nullable().default(null),
  unitTypeId: Id.nullable().default(null),
  /** of a lot; of an unsorted box how many are thought to be in it, empty where nobody counted; a unit is one */
  count: z.string().trim().max(64).default(''),
  marks: ShortText.default(''),
  ownerName: ShortText.default(''),
  note: LongText.default(''),
  photographed: z.boolean().default(false),
  sure: z.boolean().default(false),
});
export type KeepOpeningRow = z.infer<typeof KeepOpeningRow>;

/** A row of opening stock. Its id is the thing's. */
export const OpeningRow = z.object({
  id: Id,
  code: CodeText,
  kind: z.enum(['unit', 'lot', 'unsorted']),
  name: z.string(),
  words: z.string(),
  part: z.object({ id: Id, name: z.string(), number: z.string() }).nullable(),
  unitType: Named.nullable(),
  /** how many were found */
  quantity: Quantity,
  marks: z.string(),
  owner: Named.nullable(),
  note: z.string(),
  pieceCount: z.number().int().nullable(),
  place: Named,
  /** where it is by now, in words */
  where: z.string(),
  /** the job that it was taken onto at once */
  job: Coded.nullable(),
  splitFrom: Coded.nullable(),
  standing: OpeningStanding,
  costStanding: CostStanding,
  /** of this row, else of what it was split off */
  pictures: z.array(Id),
  labelled: z.boolean(),
  keyedBy: z.string(),
  keyedAt: Instant,
  /** who has it at the desk just now */
  withAtDesk: z.string().nullable(),
  /** it still lies where it was keyed, and nobody relies on it */
  canBeChanged: z.boolean(),
  version: z.number().int(),
});
export type OpeningRow = z.infer<typeof OpeningRow>;

export const OpeningShelf = z.object({
  place: PlaceBrief,
  state: ShelfState,
  /** who said so last, and when */
  by: z.string(),
  at: Instant.nullable(),
  /** oldest first, those struck out among them */
  rows: z.array(OpeningRow),
});
export type OpeningShelf = z.infer<typeof OpeningShelf>;

/** A new place that is opened at once. */
export const AddShelf = AddPlace;
/** The shelf is done; with `inside` so is every place inside it. */
export const ShelfDone = z.strictObject({ inside: z.boolean().default(false), why: ShortText.default('') });
export type ShelfDone = z.infer<typeof ShelfDone>;
export const StrikeOpeningRow = z.strictObject({ reason: RequiredText });

export const ShelfProgress = z.object({
  id: Id,
  code: CodeText,
  name: z.string(),
  path: z.string(),
  state: ShelfState,
  /** since when it is in the books */
  since: Instant.nullable(),
  /** how many things lie there by the books, whoever brought them in */
  lying: z.number().int(),
  /** how many were keyed there */
  things: z.number().int(),
  toName: z.number().int(),
  asked: z.number().int(),
  notCosted: z.number().int(),
});
export type ShelfProgress = z.infer<typeof ShelfProgress>;
const Counts = {
  done: z.number().int(),
  begun: z.number().int(),
  notYet: z.number().int(),
  lying: z.number().int(),
  things: z.number().int(),
  toName: z.number().int(),
  asked: z.number().int(),
  notCosted: z.number().int(),
};
export const RackProgress = z.object({ id: Id, name: z.string(), state: ShelfState, ...Counts, shelves: z.array(ShelfProgress) });
export type RackProgress = z.infer<typeof RackProgress>;
/** How far opening stock is, rack by rack. Before anybody began it there are no gaps to speak of. */
export const OpeningProgress = z.object({ started: z.boolean(), racks: z.array(RackProgress), ...Counts });
export type OpeningProgress = z.infer<typeof OpeningProgress>;

/** What the things of opening stock cost, as far as anybody knows. What is unknown is counted and never reckoned as nought. */
export const OpeningWorth = z.object({
  currency: z.string(),
  known: Money,
  ofThatEstimated: Money,
  figures: z.number().int(),
  estimates: z.number().int(),
  unknown: z.number().int(),
  notLookedAt: z.number().int(),
});
export type OpeningWorth = z.infer<typeof OpeningWorth>;

/** The next that waits for a name or a cost, after this one; or this very one. */
export const NextAtDesk = z.strictObject({ after: Id.nullable().default(null), rowId: Id.nullable().default(null) });
export type NextAtDesk = z.infer<typeof NextAtDesk>;

export const DeskRow = OpeningRow.extend({
  source: Source.nullable(),
  make: Make.nullable(),
  maker: z.string().nullable(),
  condition: z.string(),
  grade: z.string(),
  packetRead: z.string(),
  packetCondition: PacketCondition.nullable(),
  cost: Money.nullable(),
  currency: z.string(),
});
export type DeskRow = z.infer<typeof DeskRow>;
/** `left`: how many wait, this one among them. */
export const AtDesk = z.object({ row: DeskRow.nullable(), left: z.number().int() });
export type AtDesk = z.infer<typeof AtDesk>;

/** What all of it cost. Null says nothing about it this time. */
export const CostSaid = z
  .strictObject({ standing: z.enum(['figure', 'estimate', 'unknown']), amount: MoneyKeyed })
  .refine(({ standing, amount }) => (standing === 'unknown') === (amount === ''), {
    error: 'Key what all of it cost, or say that nobody knows.',
    path: ['amount'],
  });
export type CostSaid = z.infer<typeof CostSaid>;

const NamingCommon = { words: ShortText.default(''), note: LongText.default(''), cost: CostSaid.nullable().default(null) };
export const NameOpeningRow = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('lot'),
    ...NamingCommon,
    partId: Id.nullable(),
    source: Source.default('unknown'),
    make: Make.default('unknown'),
    makerName: ShortText.default(''),
    marks: ShortText.default(''),
    condition: ShortText.default(''),
    packetRead: ShortText.default(''),
    packetCondition: PacketCondition.default('none'),
  }),
  z.strictObject({
    kind: z.literal('unit'),
    ...NamingCommon,
    unitTypeId: Id.nullable(),
    grade: z.string().trim().max(10).default(''),
    marks: ShortText.default(''),
  }),
  z.strictObject({
    kind: z.literal('unsorted'),
    ...NamingCommon,
    words: RequiredText,
    pieceCount: z.number().int().min(1).max(1_000_000).nullable().default(null),
  }),
]);
export type NameOpeningRow = z.infer<typeof NameOpeningRow>;

/** So many of them are something else: a lot of its own from now on. */
export const SplitOpeningRow = z.strictObject({
  id: Id,
  count: z.string().trim().min(1, 'Key how many are split off.').max(20),
  words: ShortText.default(''),
  code: CodeInput.nullable().default(null),
});
export type SplitOpeningRow = z.infer<typeof SplitOpeningRow>;
export const OpeningSplit = z.object({ row: OpeningRow, splitOff: OpeningRow });
export const ScrapOpeningRow = z.strictObject({ reason: RequiredText });
