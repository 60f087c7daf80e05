import * as z from 'zod';
import { Coded, CodeInput, CodeText, Id, Instant, RequiredText, ShortText } from './base.js';

/** A label is lost or spoiled, and another takes its place. */
export const ReplaceLabel = z.strictObject({
  was: z.enum(['lost', 'spoiled']),
  /** a blank label, of those printed beforehand; null: a new code is given, and its label is printed */
  code: CodeInput.nullable(),
  note: ShortText.default(''),
});
export type ReplaceLabel = z.infer<typeof ReplaceLabel>;

/** A further label beside those that something bears: the second tag of a casing, one for its paperwork. */
export const PutLabelOn = z.strictObject({ code: CodeInput.nullable(), why: RequiredText });
export type PutLabelOn = z.infer<typeof PutLabelOn>;

/** One of several labels is taken off, and void from then on. */
export const TakeLabelOff = z.strictObject({ why: RequiredText });
export type TakeLabelOff = z.infer<typeof TakeLabelOff>;

/** A code that something bears or bore. */
export const LabelBorne = z.object({
  code: CodeText,
  state: z.enum(['shown', 'further', 'void', 'went over']),
  givenAt: Instant,
  /** how often its label was printed */
  printed: z.number().int(),
  voidedAt: Instant.nullable(),
  /** what a scan of it says of a void one */
  words: z.string(),
  /** where it opens another lot by now */
  opens: Coded.nullable(),
});
export type LabelBorne = z.infer<typeof LabelBorne>;

export const LabelChangeShown = z.object({ id: Id, at: Instant, by: z.string(), words: z.string(), why: z.string() });
export type LabelChangeShown = z.infer<typeof LabelChangeShown>;

/** Every code of a thing or a place: those that it bears first, then what it bore. */
export const LabelsBorne = z.object({
  subject: Coded,
  isPlace: z.boolean(),
  labels: z.array(LabelBorne),
  /** newest first */
  changes: z.array(LabelChangeShown),
});
export type LabelsBorne = z.infer<typeof LabelsBorne>;

/** The label that came on, or the one that is shown where one was taken off. */
export const LabelChanged = z.object({ code: CodeText, words: z.string(), borne: LabelsBorne });
export type LabelChanged = z.infer<typeof LabelChanged>;
