import * as z from 'zod';

/** A UUID made by the client (version 7) or read from the server. */
export const Id = z.uuid({ error: 'This does not name anything in the books.' });

/** An exact decimal as text, at most 14 digits, four of them after the point: `"2"`, `"0.85"`. */
export const Quantity = z.string().regex(/^\d{1,10}(\.\d{1,4})?$/, 'A quantity is a number such as 2 or 0.85.');

/**
 * An exact amount as text, in a currency that stands beside it and with its places: `"1250.00"`; a difference may be below nought.
 * Its smallest unit is the whole number that the books keep.
 */
export const Money = z.string().regex(/^-?\d{1,13}(\.\d{1,4})?$/);
/** An amount as a person keys it; empty is not known, which is not nought. */
export const MoneyKeyed = z.string().trim().max(40).default('');
/** ISO 4217. */
export const CurrencyCode = z.string().regex(/^[A-Z]{3}$/, 'A currency is three capital letters, such as GBP.');

/** A day of the workshop's calendar, `YYYY-MM-DD`. */
export const PlainDate = z.iso.date({ error: 'That is not a day of the calendar. Key it as year-month-day.' });

/** An instant in UTC, ISO 8601. */
export const Instant = z.iso.datetime();

/** A label code as it is printed without spaces: kind letter, digits, two check digits. */
export const CodeText = z.string().regex(/^[ULCXPJTBK]\d{8,}$/);

/** What a person keyed or a scanner sent; it is read by `@corewright/codes`. */
export const CodeInput = z.string().trim().min(1).max(64);

export const ShortText = z.string().trim().max(200);
export const RequiredText = z.string().trim().min(1, 'This cannot be left empty.').max(200);
export const LongText = z.string().trim().max(4000);
/** Where a list goes on, as the answer before said it. It may hold a name of the longest, in any script. */
export const Cursor = z.string().max(2000);

export const UnitOfMeasure = z.enum(['each', 'mm', 'm', 'g']);
export const Source = z.enum(['this unit', 'harvested', 'bought used', 'old stock', 'new', 'made here', 'unknown']);
export const Material = z.enum(['metal', 'rubber', 'felt', 'leather', 'paper', 'cork', 'other']);
export const Make = z.enum(['genuine', 'original supplier', 'pattern', 'made here', 'unknown']);
export const PacketCondition = z.enum(['sealed', 'opened', 're-boxed', 'none']);
export const PacketPrecision = z.enum(['day', 'month', 'quarter', 'year', 'unknown']);
export const BuildStandard = z.enum(['as original', 'serviceable', "customer's choice"]);
export const JobState = z.enum(['estimate', 'strip', 'parts wanted', 'building', 'test', 'done', 'released', 'called off']);
export const Role = z.enum(['owner', 'stores', 'bench', 'viewer']);

export type Source = z.infer<typeof Source>;
export type Material = z.infer<typeof Material>;
export type Make = z.infer<typeof Make>;
export type PacketCondition = z.infer<typeof PacketCondition>;
export type PacketPrecision = z.infer<typeof PacketPrecision>;
export type BuildStandard = z.infer<typeof BuildStandard>;
export type JobState = z.infer<typeof JobState>;
export type Role = z.infer<typeof Role>;
export type UnitOfMeasure = z.infer<typeof UnitOfMeasure>;

/** A thing, part, place, job or firm named where another is shown. */
export const Named = z.object({ id: Id, name: z.string() });
export type Named = z.infer<typeof Named>;

/** Something with a label, named where another is shown. */
export const Coded = z.object({ id: Id, code: CodeText, name: z.string() });
export type Coded = z.infer<typeof Coded>;

/** A packet date as read and the days it can mean. */
export const PacketDate = z.object({
  asRead: z.string(),
  precision: PacketPrecision,
  earliest: PlainDate.nullable(),
  latest: PlainDate.nullable(),
});
export type PacketDate = z.infer<typeof PacketDate>;

/** Storage life on a day, by the least favourable reading. */
export const StorageLife = z.object({
  state: z.enum(['in life', 'extendable', 'past', 'unknown date', 'no limit']),
  sentence: z.string(),
  /** It serves no job line unless a person overrides that with a reason. */
  stops: z.boolean(),
});
export type StorageLife = z.infer<typeof StorageLife>;

export const Empty = z.strictObject({});
export const IdParam = z.strictObject({ id: Id });
export const Done = z.object({ done: z.literal(true) });
