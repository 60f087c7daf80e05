import * as z from 'zod';
import { Coded, CodeInput, Id, Instant, Named, RequiredText, ShortText } from './base.js';

/** What is stamped on a part, keyed as read, with `?` for each character that cannot be read. */
export const Stamped = z.string().trim().max(40);

/** Where set numbers differ: whose reading stands. Nothing is bound until somebody has said it. */
export const DifferentNumbers = z.discriminatedUnion('say', [
  z.strictObject({ say: z.literal('they are of two sets') }),
  z.strictObject({ say: z.literal('they belong together'), why: RequiredText }),
]);
export type DifferentNumbers = z.infer<typeof DifferentNumbers>;

export const KeptSetMember = z.object({
  thing: Coded,
  stamped: z.string(),
  /** false for what is left of a broken set */
  bound: z.boolean(),
  where: z.string(),
});

/** Parts that belong together for good: for one job only, whole when the job is released. */
export const KeptSet = z.object({
  id: Id,
  number: z.string(),
  words: z.string(),
  unit: Coded.nullable(),
  mismatchReason: z.string(),
  boundBy: z.string(),
  boundAt: Instant,
  members: z.array(KeptSetMember),
  broken: z.object({ onWordOf: z.string(), why: z.string(), by: z.string(), at: Instant }).nullable(),
  /** the job that has claimed or taken any of it */
  job: Named.nullable(),
});
export type KeptSet = z.infer<typeof KeptSet>;
export const KeptSetList = z.object({ sets: z.array(KeptSet) });

export const BindSet = z.strictObject({
  id: Id,
  words: RequiredText,
  members: z
    .array(z.strictObject({ code: CodeInput, stamped: Stamped.default('') }))
    .min(2)
    .max(12),
  different: DifferentNumbers.optional(),
});
export type BindSet = z.infer<typeof BindSet>;

/** On whose word, and why: without both a set stays whole. */
export const BreakSet = z.strictObject({ onWordOf: RequiredText, why: RequiredText });
export type BreakSet = z.infer<typeof BreakSet>;

export const NumbersDiffer = z.object({
  readings: z.array(z.object({ name: z.string(), stamped: ShortText })),
  choices: z.array(z.object({ say: z.string(), words: z.string() })),
});
export type NumbersDiffer = z.infer<typeof NumbersDiffer>;
