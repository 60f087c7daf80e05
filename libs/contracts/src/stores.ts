import * as z from 'zod';
import {
  Coded,
  CodeInput,
  CodeText,
  Cursor,
  Id,
  Instant,
  LongText,
  Make,
  Named,
  PacketCondition,
  PacketDate,
  PlainDate,
  Quantity,
  RequiredText,
  ShortText,
  Source,
  StorageLife,
  UnitOfMeasure,
} from './base.js';
import { MissingShown } from './not-there.js';
import { PictureShown } from './pictures.js';
import { Successor } from './relations.js';

export const ThingKind = z.enum(['unit', 'lot', 'component', 'unsorted']);
export type ThingKind = z.infer<typeof ThingKind>;

export const Holding = z.object({
  holderId: Id,
  holderKind: z.string(),
  words: z.string(),
  code: CodeText.nullable(),
  quantity: Quantity,
});
export type Holding = z.infer<typeof Holding>;

export const ClaimShown = z.object({ id: Id, claimant: Coded, quantity: Quantity });

const ThingBase = z.object({
  id: Id,
  code: CodeText,
  name: z.string(),
  owner: Named.nullable(),
  held: Quantity,
  claimed: Quantity,
  holdings: z.array(Holding),
  claims: z.array(ClaimShown),
  heldBack: z.object({ reason: z.string(), by: z.string() }).nullable(),
  condemned: z.boolean(),
  /** null for what nobody has looked for in vain */
  missing: MissingShown.nullable(),
  note: z.string(),
  load: Named.nullable(),
  /** the box that it lay in before somebody named it */
  outOfBox: Coded.nullable(),
  /** oldest first, those struck out among them */
  pictures: z.array(PictureShown),
  lastSeen: z.object({ at: Instant, by: z.string(), words: z.string() }).nullable(),
  version: z.number().int(),
});

/** Somebody looked at stored goods to see what age had done to them. */
export const InspectionShown = z.object({
  id: Id,
  inspectedOn: PlainDate,
  lookedAt: z.string(),
  passed: z.boolean(),
  words: z.string(),
  by: z.string(),
});
export type InspectionShown = z.infer<typeof InspectionShown>;

/** How a bearing is preserved in its packing. */
export const BearingPacking = z.enum(['open-preserved', 'sealed-greased']);
export const BearingStore = z.enum(['dry', 'humid', 'humid-warm', 'uncontrolled']);

export const UnitThing = ThingBase.extend({
  kind: z.literal('unit'),
  unitType: Named.nullable(),
  words: z.string(),
  grade: z.string(),
  marks: z.string(),
  stage: z.string(),
  weightKg: z.string().nullable(),
  job: Coded.nullable(),
});
export const LotThing = ThingBase.extend({
  kind: z.literal('lot'),
  part: z.object({ id: Id, name: z.string(), number: z.string(), maker: z.string(), unitOfMeasure: UnitOfMeasure }).nullable(),
  source: Source,
  make: Make,
  maker: z.string().nullable(),
  marks: z.string(),
  condition: z.string(),
  packet: PacketDate,
  packetCondition: PacketCondition,
  fittedOnce: z.boolean(),
  /** the unit that it was taken out of; null where it came otherwise */
  donor: Coded.nullable(),
  /** of shims, in millimetres */
  thickness: z.string().nullable(),
  /** null where nobody has said that it is a preserved bearing */
  preservation: z.object({ packing: BearingPacking, store: BearingStore.nullable() }).nullable(),
  /** of metal, or of nothing that anybody has named */
  canBeBearing: z.boolean(),
  storageLife: StorageLife,
  /** newest first */
  inspections: z.array(InspectionShown),
});
export const ComponentThing = ThingBase.extend({
  kind: z.literal('component'),
  unit: Coded,
  position: z.number().int(),
  of: z.number().int(),
  part: Named.nullable(),
});
export const UnsortedThing = ThingBase.extend({
  kind: z.literal('unsorted'),
  words: z.string(),
  /** how many were in it when it came; null where nobody counted */
  pieceCount: z.number().int().nullable(),
  /** how many of them nobody has named yet */
  piecesLeft: z.number().int().nullable(),
  saidEmpty: z.boolean(),
});
export const Thing = z.discriminatedUnion('kind', [UnitThing, LotThing, ComponentThing, UnsortedThing]);
export type Thing = z.infer<typeof Thing>;

export const MovementShown = z.object({
  id: Id,
  at: Instant,
  recordedAt: Instant,
  quantity: Quantity,
  from: z.string(),
  to: z.string(),
  reason: z.string(),
  by: z.string(),
  reversed: z.boolean(),
  reverses: z.boolean(),
});
export const MovementPage = z.object({ movements: z.array(MovementShown), cursor: z.string().nullable() });

export const HoldBack = z.strictObject({
  reason: RequiredText,
  mayLiftId: Id.nullable().default(null).describe('who may lift it; null: whoever keeps the books'),
  lookAgainOn: PlainDate.nullable().default(null),
});
export type HoldBack = z.infer<typeof HoldBack>;
export const LiftHold = z.strictObject({ reason: RequiredText });

/** How a lot of bearings is preserved, and where it was kept if anybody knows; no packing says that it is no preserved bearing. */
export const PreserveLot = z.strictObject({ packing: BearingPacking.nullable(), store: BearingStore.nullable() });
export type PreserveLot = z.infer<typeof PreserveLot>;

/** An inspection of a lot on a day; of an open bearing one that is passed says that it was preserved anew. It extends a storage life where the standard allows, and stays on the record. */
export const InspectLot = z.strictObject({
  inspectedOn: PlainDate,
  lookedAt: RequiredText.describe('what was looked at: how many, which faces, in what light'),
  passed: z.boolean(),
  words: RequiredText.describe('what was found'),
});
export type InspectLot = z.infer<typeof InspectLot>;

export const PlaceKind = z.enum(['site', 'area', 'rack', 'bin', 'tray', 'quarantine']);
export type PlaceKind = z.infer<typeof PlaceKind>;
export const PlaceBrief = z.object({
  id: Id,
  code: CodeText,
  name: z.string(),
  path: z.string(),
  kind: PlaceKind,
  parentId: Id.nullable(),
  thingCount: z.number().int(),
});
export type PlaceBrief = z.infer<typeof PlaceBrief>;
/** The first of them, and whether there are more. */
export const PlaceList = z.object({ places: z.array(PlaceBrief), hasMore: z.boolean() });
export type PlaceList = z.infer<typeof PlaceList>;
export const AddPlace = z.strictObject({
  id: Id,
  parentId: Id.nullable(),
  name: RequiredText,
  kind: PlaceKind,
  nicknames: ShortText.default(''),
});

/** A component taken off its unit and kept: it gets a tag of its own at once. */
export const TakeOffComponent = z.strictObject({
  id: Id,
  position: z.number().int().min(1).max(500),
  name: RequiredText,
  partId: Id.nullable(),
  placeId: Id,
  note: LongText.default(''),
});

export const FirmBrief = z.object({
  id: Id,
  name: z.string(),
  isCustomer: z.boolean(),
  isSupplier: z.boolean(),
  isOutworker: z.boolean(),
});
export const FirmList = z.object({ firms: z.array(FirmBrief) });
export const AddFirm = z.strictObject({
  id: Id,
  name: RequiredText,
  isCustomer: z.boolean(),
  isSupplier: z.boolean(),
  isOutworker: z.boolean(),
});

export const SearchHit = z.object({
  kind: z.enum(['part', 'unit', 'lot', 'component', 'unsorted', 'place', 'job']),
  id: Id,
  code: CodeText.nullable(),
  name: z.string(),
  detail: z.string(),
  where: z.string(),
  quantity: z.string(),
  /** when a thing last moved and who moved it; null for all that is no thing, and in what was found without a look at it */
  lastMoved: z.object({ at: Instant, by: z.string() }).nullable(),
  exact: z.boolean(),
  /** what a part that was found became; null where it is current, and for all that is no part */
  successor: Successor.nullable(),
});
export type SearchHit = z.infer<typeof SearchHit>;
export const SearchAnswer = z.object({ hits: z.array(SearchHit), cursor: z.string().nullable() });

/** Put away: the place once, then many things. */
export const PutAway = z.strictObject({
  code: CodeInput,
  placeId: Id,
  quantity: Quantity.optional(),
  occurredAt: Instant.optional(),
});
export const PutAwayDone = z.object({
  actId: Id,
  act: z.literal('put away'),
  thing: Coded,
  quantity: Quantity,
  words: z.string(),
});

export const SettleFlag = z.strictObject({ words: ShortText.default('') });

/** Part of a name, a nickname or a code; empty is all of them. */
export const WordsQuery = z.strictObject({ q: z.string().trim().max(100).default('') });
/** Which open places are offered for what is keyed; goods are put into no tray by hand. */
export const PlacesQuery = WordsQuery.extend({ kinds: z.enum(['all', 'no trays', 'quarantine']).default('all') });
export const MovementQuery = z.strictObject({ cursor: Cursor.optional() });
