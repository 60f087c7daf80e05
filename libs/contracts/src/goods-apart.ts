import * as z from 'zod';
import {
  Coded,
  CurrencyCode,
  Id,
  Instant,
  Money,
  MoneyKeyed,
  Named,
  PlainDate,
  Quantity,
  RequiredText,
  ShortText,
} from './base.js';

/** Held back: why, by whom, since when, who may lift it. */
export const HeldBackShown = z.object({
  reason: z.string(),
  by: z.string(),
  since: Instant,
  /** null: whoever keeps the books */
  mayLift: Named.nullable(),
  /** in words, for a screen: a name, who stands in for it, or all who keep the books */
  mayLiftWords: z.string(),
  lookAgainOn: PlainDate.nullable(),
});
export type HeldBackShown = z.infer<typeof HeldBackShown>;

export const HoldChangeShown = z.object({
  id: Id,
  at: Instant,
  by: z.string(),
  held: z.boolean(),
  reason: z.string(),
  mayLift: z.string(),
  lookAgainOn: PlainDate.nullable(),
});

/** Something that is held back or condemned, as a list shows it. */
const ThingApart = Coded.extend({
  kind: z.enum(['unit', 'lot', 'component', 'unsorted']),
  quantity: Quantity,
  where: z.string(),
  /** it lies in a place that is a quarantine */
  inQuarantine: z.boolean(),
  owner: Named.nullable(),
  pictures: z.number().int(),
});

export const HeldThing = ThingApart.extend({
  heldBack: HeldBackShown,
  days: z.number().int(),
  /** the day to look again is there or past */
  isDue: z.boolean(),
  keptForOwner: z.boolean(),
  claimed: Quantity,
});
export type HeldThing = z.infer<typeof HeldThing>;

export const CondemnedThing = ThingApart.extend({
  reason: z.string(),
  by: z.string(),
  at: Instant,
  /** what was decided to become of it; null while nobody has */
  keptAs: z.enum(['kept as a pattern', 'kept for display']).nullable(),
});
export type CondemnedThing = z.infer<typeof CondemnedThing>;

export const Holds = z.object({
  today: PlainDate,
  held: z.array(HeldThing),
  /** what lies in a quarantine place and is neither held back nor condemned */
  unheld: z.array(ThingApart),
  condemned: z.array(CondemnedThing),
  /** who may be named as the one who lifts a hold */
  lifters: z.array(Named),
  quarantinePlaces: z.array(Named),
});
export type Holds = z.infer<typeof Holds>;

/** All that lies in a place is held back for one reason. */
export const HoldPlace = z.strictObject({
  reason: RequiredText,
  mayLiftId: Id.nullable().default(null).describe('who may lift it; null: whoever keeps the books'),
  lookAgainOn: PlainDate.nullable().default(null),
});
export type HoldPlace = z.infer<typeof HoldPlace>;
export const PlaceHeld = z.object({ held: z.number().int(), before: z.number().int(), words: z.string() });
export type PlaceHeld = z.infer<typeof PlaceHeld>;

/** It was looked at again and stays held back. */
export const HoldOn = z.strictObject({ words: RequiredText, lookAgainOn: PlainDate.nullable() });
export type HoldOn = z.infer<typeof HoldOn>;

/** It is of no use to anybody any more, and never will be. */
export const Condemn = z.strictObject({
  reason: RequiredText,
  noPicture: ShortText.default('').describe('why there is no photograph of it; empty where there is one'),
});
export type Condemn = z.infer<typeof Condemn>;

export const DisposalHow = z.enum(['scrapped', 'given back', 'kept as a pattern', 'kept for display']);
/** What becomes of what is condemned. */
export const DisposeOf = z.strictObject({
  how: DisposalHow,
  words: RequiredText,
  ownersWord: ShortText.default('').describe(
    'who of the owner’s said so, and how; wanted before what is not ours is scrapped or kept',
  ),
});
export type DisposeOf = z.infer<typeof DisposeOf>;

export const CondemnationShown = z.object({
  reason: z.string(),
  by: z.string(),
  at: Instant.nullable(),
  noPicture: z.string(),
  disposals: z.array(
    z.object({ id: Id, how: DisposalHow, words: z.string(), ownersWord: z.string(), by: z.string(), at: Instant }),
  ),
});

export type CondemnationShown = z.infer<typeof CondemnationShown>;

export const OwnerChangeHow = z.enum(['bought', 'given to us', 'given to them', 'theirs after all']);
/** A thing becomes another’s: the act is named, never an edit. */
export const ChangeOwner = z.strictObject({
  how: OwnerChangeHow,
  ownerName: ShortText.default('').describe('whose it becomes; empty where it becomes ours'),
  price: MoneyKeyed.describe('what was paid for it, in the workshop’s currency; empty: nobody said'),
  on: PlainDate,
  words: RequiredText,
});
export type ChangeOwner = z.infer<typeof ChangeOwner>;

export const OwnerChangeShown = z.object({
  id: Id,
  how: z.string(),
  from: z.string(),
  to: z.string(),
  price: Money.nullable(),
  currency: CurrencyCode.nullable(),
  on: PlainDate,
  words: z.string(),
  by: z.string(),
  at: Instant,
});
export type OwnerChangeShown = z.infer<typeof OwnerChangeShown>;

export const KeptKind = z.enum([
  'found property',
  'to be collected',
  'core not accepted',
  'left over from a job',
  'job not paid',
  'to be decided by its owner',
]);
export type KeptKind = z.infer<typeof KeptKind>;
export const KeptEnding = z.enum(['collected', 'claimed', 'given away', 'scrapped', 'bought']);
export type KeptEnding = z.infer<typeof KeptEnding>;
export const NoteWay = z.enum(['letter', 'call', 'visit', 'message', 'advice taken', 'looked at']);
export type NoteWay = z.infer<typeof NoteWay>;

export const KeptForOwner = z.object({
  id: Id,
  kind: KeptKind,
  thing: Coded,
  quantity: Quantity,
  where: z.string(),
  /** null: nobody knows whose it is */
  owner: Named.nullable(),
  words: z.string(),
  foundWhere: z.string(),
  foundBy: z.string(),
  since: PlainDate,
  askWhom: z.string(),
  lookAgainOn: PlainDate,
  standing: z.enum(['overdue', 'today', 'later', 'ended']),
  by: z.string(),
  pictures: z.number().int(),
  /** oldest first */
  notes: z.array(z.object({ id: Id, way: NoteWay, on: PlainDate, withWhom: z.string(), words: z.string(), by: z.string() })),
  ended: z.object({ how: KeptEnding, words: z.string(), by: z.string(), at: Instant }).nullable(),
});
export type KeptForOwner = z.infer<typeof KeptForOwner>;
/** Overdue first, then by the day on which somebody is to look again. */
export const KeptForOwners = z.object({ today: PlainDate, kept: z.array(KeptForOwner), ended: z.array(KeptForOwner) });
export type KeptForOwners = z.infer<typeof KeptForOwners>;

/** Something that nobody knows whose it is: it gets a label and waits. */
export const AddFoundProperty = z.strictObject({
  id: Id,
  thingId: Id,
  name: RequiredText.describe('what it is, in a few words'),
  quantity: Quantity.default('1'),
  placeId: Id,
  foundWhere: RequiredText,
  foundBy: RequiredText,
  since: PlainDate,
  words: ShortText.default(''),
  askWhom: ShortText.default(''),
  lookAgainOn: PlainDate,
});
export type AddFoundProperty = z.infer<typeof AddFoundProperty>;

/** A customer’s thing waits to be collected or decided on. */
export const KeepForOwner = z.strictObject({
  id: Id,
  kind: KeptKind.exclude(['found property']),
  words: RequiredText,
  since: PlainDate,
  askWhom: ShortText.default(''),
  lookAgainOn: PlainDate,
});
export type KeepForOwner = z.infer<typeof KeepForOwner>;

export const AddKeptNote = z.strictObject({
  id: Id,
  way: NoteWay,
  on: PlainDate,
  withWhom: ShortText.default(''),
  words: RequiredText,
  lookAgainOn: PlainDate.nullable().default(null).describe('null: the day stays'),
});
export type AddKeptNote = z.infer<typeof AddKeptNote>;

export const EndKept = z.strictObject({
  how: KeptEnding,
  words: RequiredText.describe('who took or claimed it, what was signed, what was said'),
  restsOn: ShortText.default('').describe('the owner’s word, or the advice taken; wanted for what is given away or scrapped'),
  ownerName: ShortText.default('').describe('whose it is; wanted where found property is claimed'),
  price: MoneyKeyed,
});
export type EndKept = z.infer<typeof EndKept>;

const TheirThing = Coded.extend({
  kind: z.enum(['unit', 'lot', 'component', 'unsorted']),
  quantity: Quantity,
  /** the instant of its first movement */
  since: Instant,
  where: z.string(),
  /** the jobs that it is on or claimed for */
  jobs: z.array(Coded),
  /** held back, condemned, kept, missing; in words */
  standing: z.array(z.string()),
  note: z.string(),
});
export const OwnersGoods = z.object({ owner: Named, isKnown: z.boolean(), things: z.array(TheirThing) });
export type OwnersGoods = z.infer<typeof OwnersGoods>;
/** What lies here and is not ours, by owner. */
export const NotOurs = z.object({ today: PlainDate, owners: z.array(OwnersGoods) });
export type NotOurs = z.infer<typeof NotOurs>;
export const NotOursQuery = z.strictObject({ ownerId: Id.optional() });

/** What stands apart about a thing, for its page. */
export const StandsApart = z.object({
  heldBack: HeldBackShown.nullable(),
  /** newest first */
  holdChanges: z.array(HoldChangeShown),
  condemnation: CondemnationShown.nullable(),
  /** newest first */
  ownerChanges: z.array(OwnerChangeShown),
  kept: KeptForOwner.nullable(),
  quarantinePlaces: z.array(Named),
  inQuarantine: z.boolean(),
});
export type StandsApart = z.infer<typeof StandsApart>;
