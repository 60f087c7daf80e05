import * as z from 'zod';
import { Id, Quantity, RequiredText, ShortText } from './base.js';

const Millimetres = z.number().positive();

/** A part of the books that is this bearing by one of its numbers, and what is free of it in stores. */
export const BearingInStores = z.object({
  partId: Id,
  name: z.string(),
  /** Those of its numbers that name this bearing, as printed. */
  numbers: z.array(z.object({ maker: z.string(), number: z.string() })),
  free: Quantity,
});
export type BearingInStores = z.infer<typeof BearingInStores>;

/** A row of the table of boundary dimensions. Width is T of a taper roller bearing and H of a thrust bearing. */
export const BearingDimensions = z.object({
  designation: z.string(),
  type: z.string(),
  boreMm: Millimetres,
  outsideMm: Millimetres,
  widthMm: Millimetres,
  chamferMinMm: Millimetres.nullable(),
  ratingN: z.number().positive().nullable(),
  source: z.string(),
  /** false for a row of the workshop's own. */
  shipped: z.boolean(),
});
export type BearingDimensions = z.infer<typeof BearingDimensions>;

/** A designation as far as it could be read. */
export const BearingReading = z.object({
  asGiven: z.string(),
  system: z
    .enum(['metric', 'old metric', 'ISO 355', 'inch ball', 'imperial light', 'imperial medium', 'inch taper'])
    .nullable()
    .describe('null where nothing could be read'),
  type: z.string().nullable(),
  basic: z.string().nullable(),
  dimensionSeries: z.string().nullable(),
  boreMm: Millimetres.nullable(),
  piece: z.enum(['whole', 'cone', 'cup', 'unknown piece']),
  locating: z.enum(['both ways', 'one way', 'not at all', 'endways only']).nullable(),
  prefixes: z.array(z.object({ prefix: z.string(), words: z.string() })),
  suffixes: z.array(
    z.object({ suffix: z.string(), aspect: z.string(), value: z.string(), words: z.string(), source: z.string() }),
  ),
  stopped: z.object({ at: z.number().int(), rest: z.string(), why: z.string() }).nullable(),
  notes: z.array(z.string()),
});
export type BearingReading = z.infer<typeof BearingReading>;

/** A bearing by its designation: what it says, its dimensions if the table has them, and what is in stores. */
export const BearingRead = z.object({
  reading: BearingReading,
  dimensions: BearingDimensions.nullable(),
  /** Assemblies of the table to which a cone or cup alone belongs. */
  belongsTo: z.array(BearingDimensions),
  /** Where designation and dimensions do not agree. */
  contradictions: z.array(z.string()),
  stores: z.array(BearingInStores),
});
export type BearingRead = z.infer<typeof BearingRead>;

const Measured = z.object({ boreMm: z.number().nullable(), outsideMm: z.number().nullable(), widthMm: z.number().nullable() });

export const MeasuredCandidate = z.object({
  dimensions: BearingDimensions,
  /** The table's figure less the measured one, in millimetres; null where nothing was measured. */
  deviation: Measured,
  stores: z.array(BearingInStores),
});
export type MeasuredCandidate = z.infer<typeof MeasuredCandidate>;

/** Bearings by measurement, best first; `doubt` asks about the unit where nothing fits as keyed. */
export const BearingsMeasured = z.object({
  measured: Measured,
  toleranceMm: z.number(),
  count: z.number().int(),
  candidates: z.array(MeasuredCandidate),
  doubt: z
    .object({ question: z.string(), measured: Measured, count: z.number().int(), candidates: z.array(MeasuredCandidate) })
    .nullable(),
});
export type BearingsMeasured = z.infer<typeof BearingsMeasured>;

/** May `other` be fitted where `wanted` belongs: a verdict, and a reason for each point. */
export const BearingsCompared = z.object({
  verdict: z.enum(['drop-in', 'with care', 'no']),
  sentence: z.string(),
  points: z.array(z.object({ point: z.string(), answer: z.enum(['serves', 'with care', 'no', 'unknown']), reason: z.string() })),
  contradictions: z.array(z.string()),
  caution: z.string(),
  wanted: BearingRead,
  other: BearingRead,
});
export type BearingsCompared = z.infer<typeof BearingsCompared>;

const Designation = z
  .string()
  .trim()
  .min(1, 'Key the number that stands on the bearing, such as 6205-2RS.')
  .max(60, 'A designation has at most 60 characters.');
const Length = z.string().trim().max(20, 'Key a length such as 31.75, 1.25 in or 1 1/4.').default('');

/** What was measured of the one in hand may be given with its number; what does not agree is told. */
export const ReadBearingQuery = z.strictObject({ designation: Designation, d: Length, D: Length, B: Length, tolerance: Length });

/** Lengths as keyed: "31.75", "1.25 in", "1 1/4". Empty where not measured; at least two are wanted. */
export const MeasuredBearingQuery = z.strictObject({ d: Length, D: Length, B: Length, tolerance: Length });
export const CompareBearingsQuery = z.strictObject({ a: Designation, b: Designation });

/** A row that the workshop keeps, with who keyed it last, and where it does not agree with the designation or a shipped row. */
export const OwnDimensions = BearingDimensions.extend({ by: z.string(), contradictions: z.array(z.string()) });
export type OwnDimensions = z.infer<typeof OwnDimensions>;

/** What a maker's suffix means; the maker is empty where several mark alike. */
export const SuffixShown = z.object({
  maker: z.string(),
  suffix: z.string(),
  aspect: z.string(),
  value: z.string(),
  words: z.string(),
  source: z.string(),
  shipped: z.boolean(),
  by: z.string(),
  contradictions: z.array(z.string()),
});
export type SuffixShown = z.infer<typeof SuffixShown>;

/** The workshop's own bearings, shipped ones whose designation begins with what was asked, and every suffix. */
export const BearingTables = z.object({
  own: z.array(OwnDimensions),
  shipped: z.array(BearingDimensions),
  suffixes: z.array(SuffixShown),
});
export type BearingTables = z.infer<typeof BearingTables>;
export const BearingTablesQuery = z.strictObject({ q: z.string().trim().max(60).default('') });

const KeyedLength = z.string().trim().min(1, 'Key a length such as 31.75, 1.25 in or 1 1/4.').max(20);
/** A bearing of the workshop's own, lengths as keyed; the chamfer may stay empty. A row of the same number is replaced. */
export const KeepDimensions = z.strictObject({
  designation: Designation,
  type: RequiredText,
  bore: KeyedLength,
  outside: KeyedLength,
  width: KeyedLength,
  chamfer: Length,
  source: RequiredText,
});
export type KeepDimensions = z.infer<typeof KeepDimensions>;
export const StrikeDimensions = z.strictObject({ designation: Designation, why: RequiredText });
export type StrikeDimensions = z.infer<typeof StrikeDimensions>;

const Suffix = z
  .string()
  .trim()
  .toUpperCase()
  .regex(/^[A-Z0-9]{1,20}$/, 'A suffix is letters and figures, without what separates it: 2RS, ZZ, C3.');
export const KeepSuffix = z.strictObject({
  maker: ShortText.default(''),
  suffix: Suffix,
  aspect: RequiredText,
  value: RequiredText,
  words: RequiredText,
  source: RequiredText,
});
export type KeepSuffix = z.infer<typeof KeepSuffix>;
export const StrikeSuffix = z.strictObject({ maker: ShortText.default(''), suffix: Suffix, why: RequiredText });
export type StrikeSuffix = z.infer<typeof StrikeSuffix>;
