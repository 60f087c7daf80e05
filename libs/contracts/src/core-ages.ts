import * as z from 'zod';
import { Coded, CodeText, CurrencyCode, Id, Instant, Money, Named, PlainDate, Quantity, RequiredText } from './base.js';
import { PartNamed } from './relations.js';

/** What somebody decided when they looked at a core again. */
export const CoreDecision = z.enum(['keep', 'rebuild', 'break for spares', 'sell']);
export type CoreDecision = z.infer<typeof CoreDecision>;

/** A core was looked through again, whatever was decided; the day is when it is to be looked through next. */
export const ReviewCore = z.strictObject({ id: Id, decided: CoreDecision, note: RequiredText, nextOn: PlainDate });
export type ReviewCore = z.infer<typeof ReviewCore>;

export const CoreReview = z.object({
  id: Id,
  decided: CoreDecision,
  note: z.string(),
  nextOn: PlainDate,
  by: z.string(),
  at: Instant,
});
export type CoreReview = z.infer<typeof CoreReview>;
/** newest first */
export const CoreReviewList = z.object({ reviews: z.array(CoreReview) });
export type CoreReviewList = z.infer<typeof CoreReviewList>;

const monthsMax = 120;
/** After so many months in the yard a core is to be looked through again, and once more, unless somebody has. */
export const EditCoreReviewMarks = z
  .strictObject({
    firstMonths: z.number().int().min(1).max(monthsMax),
    secondMonths: z
      .number()
      .int()
      .min(1)
      .max(2 * monthsMax),
  })
  .refine(({ firstMonths, secondMonths }) => firstMonths < secondMonths, {
    path: ['secondMonths'],
    message: 'The second mark comes after the first one.',
  });
export type EditCoreReviewMarks = z.infer<typeof EditCoreReviewMarks>;
export const CoreReviewMarks = z.object({
  firstMonths: z.number().int(),
  secondMonths: z.number().int(),
  version: z.number().int(),
});
export type CoreReviewMarks = z.infer<typeof CoreReviewMarks>;

/** How a core stands to its marks; the first two need nobody yet. */
export const coreStandings = ['not yet', 'looked through', 'past the first mark', 'past the second mark', 'due again'] as const;
export const CoreStanding = z.enum(coreStandings);
export type CoreStanding = z.infer<typeof CoreStanding>;

export const CoreAge = z.object({
  id: Id,
  code: CodeText,
  name: z.string(),
  unitType: Named.nullable(),
  grade: z.string(),
  where: z.string(),
  /** since when it is in the yard, and by what that is known */
  since: PlainDate,
  sinceWords: z.string(),
  /** whole months of the calendar */
  months: z.number().int(),
  standing: CoreStanding,
  /** the day of the next mark, or the one that somebody named */
  dueOn: PlainDate,
  isPromised: z.boolean(),
  review: CoreReview.nullable(),
});
export type CoreAge = z.infer<typeof CoreAge>;

export const CoreAges = z.object({
  on: PlainDate,
  marks: CoreReviewMarks,
  /** when one that is looked through today is next looked through, unless somebody says otherwise */
  nextOffered: PlainDate,
  /** oldest first */
  cores: z.array(CoreAge),
  /** cores that wait for somebody to look them through */
  due: z.number().int(),
  more: z.boolean(),
});
export type CoreAges = z.infer<typeof CoreAges>;

/** A component of a core that open jobs lack: what it would be worth to them. */
export const WantedOfCore = z.object({
  part: PartNamed,
  /** how many of it jobs could use of this one core */
  pieces: Quantity,
  jobs: z.array(Coded),
  /** null where it is not known, which is not nought */
  worth: Money.nullable(),
  words: z.string(),
});
export type WantedOfCore = z.infer<typeof WantedOfCore>;

/** What a core is worth whole, as far as anybody knows, against what is wanted from it. */
export const CoreWorth = z.object({
  id: Id,
  whole: Money.nullable(),
  wholeWords: z.string(),
  wanted: z.array(WantedOfCore),
  /** what is known of the worth of what is wanted; null where none of it is */
  spares: Money.nullable(),
  isBetterBroken: z.boolean(),
  words: z.string(),
});
export type CoreWorth = z.infer<typeof CoreWorth>;
export const CoreWorths = z.object({ currency: CurrencyCode, cores: z.array(CoreWorth) });
export type CoreWorths = z.infer<typeof CoreWorths>;
