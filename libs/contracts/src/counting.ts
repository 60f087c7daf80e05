import * as z from 'zod';
import {
  Coded,
  CodeInput,
  CurrencyCode,
  Id,
  Instant,
  Money,
  Named,
  PlainDate,
  Quantity,
  RequiredText,
  ShortText,
} from './base.js';
import { PictureShown } from './pictures.js';
import { PlaceKind } from './stores.js';

/** So much more or less than the books had: `"-2"`, `"0.5"`. */
const SignedQuantity = z.string().regex(/^-?\d{1,10}(\.\d{1,4})?$/);

// ------------------------------------------------------------------ what is counted, and when

const daysMax = 3660;
const Days = z.number().int().min(1, 'At least one day.').max(daysMax, 'At most ten years.');

/** How often a place with what is inside it, or every place of a kind, is counted. */
export const CountTerm = z
  .strictObject({ placeId: Id.nullable(), placeKind: PlaceKind.exclude(['tray']).nullable(), days: Days })
  .refine(({ placeId, placeKind }) => (placeId === null) !== (placeKind === null), {
    path: ['placeId'],
    message: 'A place or a kind of place: one of the two.',
  });
export type CountTerm = z.infer<typeof CountTerm>;

const termsMax = 200;
export const EditCountSettings = z.strictObject({
  scarceAtMost: Quantity.describe('a part of which so many or fewer of ours are in stores is scarce, unless it is marked'),
  scarceDays: Days,
  usualDays: Days,
  terms: z.array(CountTerm).max(termsMax),
});
export type EditCountSettings = z.infer<typeof EditCountSettings>;
export const CountSettings = z.object({
  scarceAtMost: Quantity,
  scarceDays: z.number().int(),
  usualDays: z.number().int(),
  terms: z.array(
    z.object({ placeId: Id.nullable(), placeKind: z.string().nullable(), words: z.string(), days: z.number().int() }),
  ),
  version: z.number().int(),
});
export type CountSettings = z.infer<typeof CountSettings>;

/** Whether a part is scarce whatever there is of it; null: by how many there are. */
export const EditCountMark = z.strictObject({ scarce: z.boolean().nullable() });
export const CountMark = z.object({ scarce: z.boolean().nullable(), words: z.string() });
export type CountMark = z.infer<typeof CountMark>;

export const CountDue = z.object({
  kind: z.enum(['place', 'part']),
  id: Id,
  code: z.string().nullable(),
  name: z.string(),
  /** the day of the last count of all of it; null where nobody has counted it yet */
  lastOn: PlainDate.nullable(),
  dueOn: PlainDate,
  daysOver: z.number().int(),
  why: z.string(),
  /** the count in which it is being counted */
  underWay: z.object({ id: Id, number: z.number().int() }).nullable(),
});
export type CountDue = z.infer<typeof CountDue>;
/** the longest overdue first; what is not due yet follows */
export const CountDueList = z.object({
  on: PlainDate,
  due: z.array(CountDue),
  dueTotal: z.number().int(),
  more: z.boolean(),
});
export type CountDueList = z.infer<typeof CountDueList>;

// ------------------------------------------------------------------ counting

export const BeginCount = z
  .strictObject({ id: Id, placeId: Id.nullable(), partId: Id.nullable(), occurredAt: Instant.optional() })
  .refine(({ placeId, partId }) => (placeId === null) !== (partId === null), {
    path: ['placeId'],
    message: 'A place or a part: one of the two.',
  });
export type BeginCount = z.infer<typeof BeginCount>;

export const CountBrief = z.object({
  id: Id,
  number: z.number().int(),
  title: z.string(),
  begunAt: Instant,
  begunBy: z.string(),
  endedAt: Instant.nullable(),
  ending: z.enum(['posted', 'given up']).nullable(),
  endingWords: z.string(),
});
export type CountBrief = z.infer<typeof CountBrief>;
export const CountList = z.object({ open: z.array(CountBrief), ended: z.array(CountBrief) });
export type CountList = z.infer<typeof CountList>;

/** What was found that bears no label of its own, or a figure that whoever counted it doubts. */
export const CountFindingKind = z.enum(['no label', 'another label', 'in doubt']);
export type CountFindingKind = z.infer<typeof CountFindingKind>;

/** What whoever counts sees of a count: never what the books hold, nor what another doubts before all there is scanned. */
export const CountPage = CountBrief.extend({
  place: Coded.nullable(),
  part: Named.nullable(),
  places: z.array(
    z.object({
      id: Id,
      code: z.string(),
      path: z.string(),
      /** who counts there, who took it first; empty where nobody has been yet */
      people: z.array(z.string()),
      isMine: z.boolean(),
      closedAt: Instant.nullable(),
      scans: z.number().int(),
      /** a second look was asked for: by whom and why, and whose look it is */
      again: z.array(z.object({ thing: Coded, words: z.string(), whose: z.string() })),
    }),
  ),
  /** of the person who asks, newest first */
  mine: z.array(
    z.object({
      id: Id,
      thing: Coded,
      place: z.string(),
      at: Instant,
      quantity: Quantity.nullable(),
      asked: z.enum(['', 'how many', 'once more']),
      struck: z.boolean(),
    }),
  ),
  findings: z.array(
    z.object({
      id: Id,
      kind: CountFindingKind,
      place: z.string(),
      thing: Coded.nullable(),
      words: z.string(),
      quantity: z.number().int().nullable(),
      by: z.string(),
      at: Instant,
      pictures: z.array(PictureShown),
      ended: z.object({ words: z.string(), thing: Coded.nullable() }).nullable(),
    }),
  ),
});
export type CountPage = z.infer<typeof CountPage>;

const InOwnName = z
  .boolean()
  .default(false)
  .describe('everybody who works here has looked before, and whoever sends it was told: they look once more in their own name');

/** Somebody stands at a place and counts there. Without a count the open one of the place, or a new one. */
export const TakePlace = z.strictObject({
  code: CodeInput.describe('of the place'),
  countId: Id.optional(),
  join: z.boolean().default(false).describe('count there together with whoever does'),
  occurredAt: Instant.optional(),
});
export type TakePlace = z.infer<typeof TakePlace>;
export const PlaceTaken = z.object({
  act: z.literal('place taken'),
  count: z.object({ id: Id, number: z.number().int() }),
  place: Coded,
  words: z.string(),
});
export type PlaceTaken = z.infer<typeof PlaceTaken>;

export const EnterCount = z.strictObject({
  code: CodeInput.describe('of the thing'),
  placeId: Id,
  countId: Id.optional(),
  quantity: Quantity.optional().describe('without one a single thing is one, and of a lot it is asked for'),
  inOwnName: InOwnName,
  occurredAt: Instant.optional(),
});
export type EnterCount = z.infer<typeof EnterCount>;
/** It never says whether the books agree. */
export const CountEntered = z.object({
  actId: Id,
  act: z.literal('counted'),
  thing: Coded,
  quantity: Quantity.nullable(),
  asks: z.enum(['nothing', 'how many', 'once more']),
  words: z.string(),
});
export type CountEntered = z.infer<typeof CountEntered>;
export const EntryStruck = z.object({ act: z.literal('count struck'), thing: Coded, words: z.string() });
export type EntryStruck = z.infer<typeof EntryStruck>;
export const StrikeEntry = z.strictObject({ why: ShortText.default(''), occurredAt: Instant.optional() });

/** Everything that lies at a place was scanned: what the books have there and nobody scanned is missing. */
export const ClosePlace = z.strictObject({
  placeId: Id,
  countId: Id.optional(),
  inOwnName: InOwnName,
  occurredAt: Instant.optional(),
});
export type ClosePlace = z.infer<typeof ClosePlace>;
export const PlaceClosed = z.object({ act: z.literal('place closed'), place: Coded, words: z.string() });
export type PlaceClosed = z.infer<typeof PlaceClosed>;

const piecesMax = 100_000;
export const RecordCountFinding = z
  .strictObject({
    id: Id,
    kind: CountFindingKind,
    placeId: Id,
    countId: Id.optional(),
    code: CodeInput.nullable().default(null).describe('the label that is on something else, or of what is in doubt'),
    words: RequiredText.describe('what it is, or what is in doubt'),
    quantity: z.number().int().min(1).max(piecesMax).nullable().default(null),
    occurredAt: Instant.optional(),
  })
  .refine(({ kind, code }) => (kind === 'no label') === (code === null), {
    path: ['code'],
    message: 'Scan the label that is on it; what bears none has none.',
  });
export type RecordCountFinding = z.infer<typeof RecordCountFinding>;

// ------------------------------------------------------------------ differences

export const CountLineState = z.enum([
  'agrees',
  'short',
  'found',
  'missing',
  'lies elsewhere by the books',
  'counted twice',
  'no number keyed',
  'to be keyed once more',
  'taken back meanwhile',
  'to be counted again',
]);
export type CountLineState = z.infer<typeof CountLineState>;
export const CountDecisionKind = z.enum(['post', 'move', 'missing', 'again', 'leave']);
export type CountDecisionKind = z.infer<typeof CountDecisionKind>;

export const CountLine = z.object({
  place: Coded,
  thing: Coded,
  kind: z.enum(['unit', 'lot', 'component', 'unsorted']),
  unitOfMeasure: z.string(),
  owner: z.string().nullable(),
  state: CountLineState,
  why: z.string(),
  /** those that stand, oldest first */
  entries: z.array(z.object({ id: Id, by: z.string(), at: Instant, quantity: Quantity.nullable(), inOwnName: z.boolean() })),
  /** what may be taken as counted; one where nobody is in doubt */
  counts: z.array(z.object({ quantity: Quantity, words: z.string(), books: SignedQuantity })),
  /** null while nobody can say */
  counted: Quantity.nullable(),
  /** what the books held there at the moment of the entry */
  books: SignedQuantity,
  difference: SignedQuantity.nullable(),
  /** where the books have it, other than there */
  elsewhere: z.array(z.object({ placeId: Id, words: z.string(), quantity: Quantity })),
  /** what the difference cost; null where nobody knows, which is not nought */
  worth: Money.nullable(),
  worthWords: z.string(),
  /** jobs that count on it */
  claims: z.array(z.string()),
  offered: z.array(CountDecisionKind),
  /** what those who counted it doubt */
  doubts: z.array(z.object({ id: Id, words: z.string(), by: z.string(), at: Instant, pictures: z.array(PictureShown) })),
  /** the number must be typed before it is posted */
  typed: z.boolean(),
  decided: z.object({ id: Id, words: z.string(), by: z.string(), at: Instant, canBeTakenBack: z.boolean() }).nullable(),
});
export type CountLine = z.infer<typeof CountLine>;
export const CountDifferences = z.object({
  currency: CurrencyCode,
  /** what differs or is in doubt first */
  lines: z.array(CountLine),
  agreed: z.number().int(),
  open: z.number().int(),
  /** places of which nobody has said yet that everything is scanned: nothing is shown of them */
  notClosed: z.array(z.string()),
  /** what is known of the worth of the differences that are open, and how many have none that is known */
  worth: Money,
  unknownWorth: z.number().int(),
});
export type CountDifferences = z.infer<typeof CountDifferences>;

export const DecideCountLine = z.strictObject({
  placeId: Id,
  thingId: Id,
  decision: CountDecisionKind,
  counted: Quantity.nullable().default(null).describe('what is taken as counted, as it was shown'),
  books: SignedQuantity.nullable().default(null).describe('what the books held, as it was shown'),
  fromPlaceId: Id.nullable().default(null).describe('of a move'),
  typed: z.string().trim().max(20).default('').describe('the number once more, where it is hard to believe'),
  why: ShortText.default(''),
});
export type DecideCountLine = z.infer<typeof DecideCountLine>;
const linesMax = 2000;
/** All of them or none. */
export const DecideCountLines = z.strictObject({ lines: z.array(DecideCountLine).min(1).max(linesMax) });
export type DecideCountLines = z.infer<typeof DecideCountLines>;

/** A decision was a mistake: what it moved is moved back. */
export const TakeDecisionBack = z.strictObject({ why: ShortText.default('') });

export const SettleCountFinding = z.strictObject({
  how: z.enum(['made unsorted', 'left']),
  why: ShortText.default(''),
});
export type SettleCountFinding = z.infer<typeof SettleCountFinding>;

export const EndCount = z.strictObject({ ending: z.enum(['posted', 'given up']), why: ShortText.default('') });
export type EndCount = z.infer<typeof EndCount>;

// ------------------------------------------------------------------ what came of counts

/** How often the books were right, with the range in which the true share lies. */
const HitRate = z.object({
  right: z.number().int(),
  counted: z.number().int(),
  /** in hundredths, the range rounded outward */
  least: z.number(),
  rate: z.number(),
  most: z.number(),
  words: z.string(),
});
export const CountHits = z.object({
  /** oldest first, those months in which a count was posted */
  months: z.array(HitRate.extend({ month: z.string() })),
  /** newest first */
  counts: z.array(HitRate.extend({ id: Id, number: z.number().int(), title: z.string(), on: PlainDate })),
});
export type CountHits = z.infer<typeof CountHits>;

/** What posted counts said of a thing or a place, newest first. */
export const LastCounted = z.object({
  counted: z.array(
    z.object({
      countId: Id,
      number: z.number().int(),
      at: Instant,
      by: z.string(),
      agreed: z.boolean(),
      words: z.string(),
    }),
  ),
});
export type LastCounted = z.infer<typeof LastCounted>;
