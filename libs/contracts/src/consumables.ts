import * as z from 'zod';
import {
  Coded,
  CodeInput,
  CodeText,
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

/** How the use of a consumable comes onto a job. */
export const chargings = ['by use', 'flat', 'not at all'] as const;
export const Charging = z.enum(chargings);
export type Charging = z.infer<typeof Charging>;

const UsesPerContainer = z.number().int().min(1).max(100_000);
const KeepsDays = z.number().int().min(1).max(9999);

/** A part is used up by the container: what a container is, how long it keeps once opened, how it is charged. */
export const KeepConsumable = z.strictObject({
  container: RequiredText,
  keepsDays: KeepsDays.nullable().describe('days, once opened; null: as long as the packet says'),
  oneAtATime: z.boolean(),
  charged: Charging,
  useAmount: MoneyKeyed.describe('by use: so much money each'),
  usesPerContainer: UsesPerContainer.nullable().describe('by use: or a share of what the container cost, of so many'),
  flat: z
    .array(z.strictObject({ unitTypeId: Id.nullable(), amount: MoneyKeyed }))
    .max(200)
    .default([])
    .describe('flat: so much a job of this unit type; null: of any other'),
  flatFrom: PlainDate.nullable().default(null).describe('flat: for jobs opened from this day on; null: from today'),
});
export type KeepConsumable = z.infer<typeof KeepConsumable>;
export const WithdrawConsumable = z.strictObject({ why: RequiredText });

export const ConsumableSettings = z.object({
  part: z.object({ id: Id, name: z.string(), number: z.string() }),
  container: z.string(),
  keepsDays: z.number().int().nullable(),
  oneAtATime: z.boolean(),
  charged: Charging,
  currency: CurrencyCode,
  /** amounts are told to those alone who keep the books; null to others */
  useAmount: Money.nullable(),
  usesPerContainer: z.number().int().nullable(),
  flat: z.array(z.object({ unitType: Named.nullable(), amount: Money.nullable(), from: PlainDate })),
  version: z.number().int(),
});
export type ConsumableSettings = z.infer<typeof ConsumableSettings>;

/** The day up to which it may be used, and why that day; past it somebody must put a name to its use. */
export const UseBy = z.object({ on: PlainDate.nullable(), past: z.boolean(), words: z.string() });
export type UseBy = z.infer<typeof UseBy>;

/** A container that is open. */
export const OpenedContainer = z.object({
  thing: Coded,
  where: z.string(),
  /** null where it was found open and nobody knows since when */
  openedOn: PlainDate.nullable(),
  openedBy: z.string(),
  useBy: UseBy,
  uses: z.number().int(),
});
export type OpenedContainer = z.infer<typeof OpenedContainer>;

/** A lot of full containers. */
export const FullContainers = z.object({ thing: Coded, quantity: Quantity, where: z.string(), useBy: UseBy });
export type FullContainers = z.infer<typeof FullContainers>;

export const Minimum = z.object({
  minimum: Quantity,
  upTo: Quantity,
  supplier: Named.nullable(),
  note: z.string(),
  version: z.number().int(),
});
export type Minimum = z.infer<typeof Minimum>;

/** A consumable with its containers. */
export const ConsumablePage = z.object({
  settings: ConsumableSettings,
  open: z.array(OpenedContainer),
  full: z.array(FullContainers),
  /** full ones that may be used: neither past use-by nor held back, missing or reserved */
  fullCount: Quantity,
});
export type ConsumablePage = z.infer<typeof ConsumablePage>;
export const ConsumableList = z.object({ consumables: z.array(ConsumablePage) });
/** Null where the part is none. */
export const ConsumableOfPart = z.object({ consumable: ConsumablePage.nullable(), minimum: Minimum.nullable() });
export type ConsumableOfPart = z.infer<typeof ConsumableOfPart>;

export const containerEventKinds = ['opened', 'not opened after all', 'empty', 'thrown away', 'found again'] as const;

/** A lot as a container of a consumable; `consumable` is null where it is none. */
export const ContainerPage = z.object({
  consumable: ConsumableSettings.nullable(),
  state: z.enum(['full', 'open', 'gone']),
  packetUseBy: PlainDate.nullable(),
  useBy: UseBy.nullable(),
  events: z.array(z.object({ at: Instant, by: z.string(), kind: z.enum(containerEventKinds), words: z.string() })),
  uses: z.number().int(),
  /** of what it cost, in parts of a hundred, as far as it is charged by shares */
  chargedInHundred: z.number().int().nullable(),
});
export type ContainerPage = z.infer<typeof ContainerPage>;

export const ReadUseBy = z.strictObject({ useBy: PlainDate.nullable() });
export const OpenContainer = z.strictObject({
  openedOn: PlainDate.nullable().describe('null: it was found open, and nobody knows since when'),
  placeId: Id.nullable().default(null).describe('where it is taken from and stands; null: where they lie'),
  label: z
    .union([z.literal(''), CodeInput])
    .default('')
    .describe('a blank label that is put on it'),
});
export type OpenContainer = z.infer<typeof OpenContainer>;
export const ContainerOpened = z.object({ thing: Coded, useBy: UseBy, words: z.string() });
export type ContainerOpened = z.infer<typeof ContainerOpened>;
export const EndContainer = z.strictObject({ how: z.enum(['empty', 'thrown away']), words: ShortText.default('') });
export type EndContainer = z.infer<typeof EndContainer>;
export const NotOpened = z.strictObject({ why: RequiredText });
export const ContainerFound = z.strictObject({ placeId: Id, words: ShortText.default('') });
export type ContainerFound = z.infer<typeof ContainerFound>;

const Uses = z.number().int().min(1).max(9999);
/** So many uses of a consumable on a job. The further members answer an earlier refusal, in the person's name. */
export const UseOnJob = z.strictObject({
  partId: Id,
  thingId: Id.nullable()
    .default(null)
    .describe('the container; null: the open one, of several the one with the nearest use-by date'),
  uses: Uses,
  openOne: z.boolean().default(false),
  override: z.strictObject({ reason: RequiredText }).optional(),
});
export type UseOnJob = z.infer<typeof UseOnJob>;
export const PutUseRight = z.strictObject({ why: RequiredText });
export const FlatChargeParam = z.strictObject({ id: Id, chargeId: Id });

/** What a job is charged for consumables: each row says what it rests on. */
export const JobConsumable = z.object({
  id: Id,
  kind: z.enum(['use', 'flat']),
  part: Named,
  container: Coded.nullable(),
  uses: z.number().int().nullable(),
  /** told to those alone who keep the books; null too where nobody knows what the container cost */
  amount: Money.nullable(),
  /** nobody knows what the container cost: that is not nought */
  unknown: z.boolean(),
  words: z.string(),
  override: z.string().nullable(),
  by: z.string(),
  at: Instant.nullable(),
  /** the second row, by which this one counts no more */
  putRight: z.object({ id: Id, why: z.string(), by: z.string(), at: Instant }).nullable(),
});
export type JobConsumable = z.infer<typeof JobConsumable>;
export const JobConsumables = z.object({
  rows: z.array(JobConsumable),
  currency: CurrencyCode,
  /** of what is known; null for those who do not keep the books */
  sum: Money.nullable(),
  /** so many rows whose cost nobody knows */
  unknown: z.number().int(),
  /** what can be used: consumables that are charged by use */
  choices: z.array(z.object({ part: Named, container: z.string(), open: z.number().int(), full: Quantity })),
});
export type JobConsumables = z.infer<typeof JobConsumables>;

/** A quantity of a part below which it is to be bought, and up to how many. */
export const KeepMinimum = z.strictObject({
  minimum: z.string().trim().min(1).max(20),
  upTo: z.string().trim().min(1).max(20),
  supplierName: ShortText.default(''),
  note: ShortText.default(''),
});
export type KeepMinimum = z.infer<typeof KeepMinimum>;
export const MinimumOfPart = z.object({ minimum: Minimum.nullable() });

export const ToBuyRow = z.object({
  part: z.object({ id: Id, name: z.string(), number: z.string(), unitOfMeasure: z.string() }),
  /** null where it is no consumable */
  container: z.string().nullable(),
  have: Quantity,
  onOrder: Quantity,
  open: z.number().int(),
  pastUseBy: z.number().int(),
  minimum: Quantity,
  upTo: Quantity,
  buy: Quantity,
  note: z.string(),
});
export type ToBuyRow = z.infer<typeof ToBuyRow>;
export const ToBuy = z.object({
  on: PlainDate,
  suppliers: z.array(z.object({ supplier: Named.nullable(), rows: z.array(ToBuyRow) })),
  /** what is past use-by, whether or not anything is to be bought */
  pastUseBy: z.array(
    z.object({ thing: z.object({ id: Id, code: CodeText, name: z.string() }), open: z.boolean(), words: z.string() }),
  ),
  /** so many parts have a minimum */
  watched: z.number().int(),
});
export type ToBuy = z.infer<typeof ToBuy>;
