import * as z from 'zod';
import { Coded, CurrencyCode, Id, Instant, Money, MoneyKeyed, Named, Quantity, ShortText } from './base.js';

/** What is looked at on a core before it is taken for a good one. Each is asked so that yes is good. */
export const CorePoint = z.enum(['complete', 'assembled', 'cracks', 'holes', 'heat', 'weld']);
export type CorePoint = z.infer<typeof CorePoint>;

/** Whether something is as it is asked for; of a component, whether it can be used again. What nobody looked at is never good. */
export const CoreAnswer = z.enum(['yes', 'no', 'not looked at']);
export type CoreAnswer = z.infer<typeof CoreAnswer>;

const PointAsked = z.object({
  point: CorePoint,
  /** what is acceptable, in words; empty while nobody has said */
  acceptable: z.string(),
});
const ComponentAsked = z.object({
  position: z.number().int(),
  name: z.string(),
  /** percent of a good core's worth that hangs on it */
  share: Quantity,
});

/** What is asked of a core of a type. A full credit is told to those alone who keep the books. */
export const AcceptanceTerms = z.object({
  unitType: Named,
  points: z.array(PointAsked),
  /** those that must be re-usable */
  components: z.array(ComponentAsked),
  /** percent that is the casing and the rest */
  rest: Quantity,
  /** null where nobody has said, and to whom it is not told */
  fullCredit: Money.nullable(),
  currency: CurrencyCode,
  /** 0 while nobody has written any */
  version: z.number().int(),
});
export type AcceptanceTerms = z.infer<typeof AcceptanceTerms>;

const Acceptable = z.string().trim().max(300, 'Say it in 300 characters: it is read in the yard.');
export const EditAcceptanceTerms = z.strictObject({
  points: z.strictObject({
    complete: Acceptable,
    assembled: Acceptable,
    cracks: Acceptable,
    holes: Acceptable,
    heat: Acceptable,
    weld: Acceptable,
  }),
  /** a component without a share is left out */
  shares: z.array(z.strictObject({ position: z.number().int().min(1).max(500), share: z.string().trim().max(40) })).max(500),
  /** empty is not said */
  fullCredit: MoneyKeyed,
});
export type EditAcceptanceTerms = z.infer<typeof EditAcceptanceTerms>;

/** A sheet as it was filled in. Whatever it does not name was not looked at. */
export const FillInAcceptance = z.strictObject({
  id: Id,
  /** of what is asked, as it was seen */
  termsVersion: z.number().int().min(1),
  points: z.array(z.strictObject({ point: CorePoint, answer: CoreAnswer, note: ShortText.default('') })).max(6),
  components: z
    .array(z.strictObject({ position: z.number().int().min(1).max(500), answer: CoreAnswer, note: ShortText.default('') }))
    .max(500),
});
export type FillInAcceptance = z.infer<typeof FillInAcceptance>;

const Judged = z.object({
  /** percent of a good core's worth that counts */
  kept: Quantity,
  /** null where there was no scale */
  grade: z.string().nullable(),
  /** null where no full credit was said, and to whom it is not told */
  credit: Money.nullable(),
});
/** What a sheet suggests: `least` by what was seen to be good; `most` if all that was not looked at is good as well. */
export const CoreSuggested = z.object({ least: Judged, most: Judged, notLookedAt: z.number().int() });
export type CoreSuggested = z.infer<typeof CoreSuggested>;

const said = { answer: CoreAnswer, note: z.string() };
/** A sheet that was filled in for a unit, with what it was judged by on that day, and what a person decided. */
export const Acceptance = z.object({
  id: Id,
  unit: Coded,
  unitType: Named,
  points: z.array(PointAsked.extend(said)),
  components: z.array(ComponentAsked.extend(said)),
  /** those that were offered, the best first */
  grades: z.array(z.string()),
  fullCredit: Money.nullable(),
  currency: CurrencyCode,
  suggested: CoreSuggested,
  by: z.string(),
  at: Instant,
  /** another one was filled in since */
  superseded: z.boolean(),
  decision: z.object({ grade: z.string(), credit: Money.nullable(), why: z.string(), by: z.string(), at: Instant }).nullable(),
});
export type Acceptance = z.infer<typeof Acceptance>;

/** What is asked of a unit and what was found, the newest first. */
export const AcceptancesOfUnit = z.object({
  /** null where the type of the unit has no sheet, or nobody has said what it is */
  terms: AcceptanceTerms.nullable(),
  /** why none can be filled in now; null where one can */
  cannot: z.string().nullable(),
  acceptances: z.array(Acceptance),
});
export type AcceptancesOfUnit = z.infer<typeof AcceptancesOfUnit>;

export const DecideAcceptance = z.strictObject({
  grade: z.string().trim().min(1, 'Say the grade.').max(10),
  /** empty: none is given */
  credit: MoneyKeyed,
  /** needed where it differs from what is suggested */
  why: ShortText.default(''),
});
export type DecideAcceptance = z.infer<typeof DecideAcceptance>;
