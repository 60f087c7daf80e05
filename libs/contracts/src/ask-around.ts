import * as z from 'zod';
import { CodeText, Id, Instant, Named, RequiredText } from './base.js';

/** Somebody who was asked says what a thing is. It settles nothing: whoever names it says so where it is named. */
export const ThingAnswer = z.object({ id: Id, toldBy: z.string(), words: z.string(), by: z.string(), at: Instant });
export type ThingAnswer = z.infer<typeof ThingAnswer>;
export const ThingAnswerList = z.object({ answers: z.array(ThingAnswer) });
export const RecordAnswer = z.strictObject({ id: Id, toldBy: RequiredText, words: RequiredText });
export type RecordAnswer = z.infer<typeof RecordAnswer>;

/** Something that is here and that nobody could name: a box, a unit not yet identified, or parts that were left for this. Its code is what one answers by. */
export const UnnamedThing = z.object({
  id: Id,
  code: CodeText,
  kind: z.enum(['unit', 'lot', 'unsorted']),
  words: z.string(),
  marks: z.string(),
  /** of a box that was counted: how many are left in it */
  pieces: z.number().int().nullable(),
  /** whose it is; null where it is ours */
  owner: z.string().nullable(),
  places: z.string(),
  since: Instant,
  load: Named.nullable(),
  seller: z.string().nullable(),
  pictures: z.array(Id),
  /** newest first */
  answers: z.array(ThingAnswer),
});
export type UnnamedThing = z.infer<typeof UnnamedThing>;
/** The oldest first; `count` is of all. */
export const AskAround = z.object({ things: z.array(UnnamedThing), count: z.number().int() });
export type AskAround = z.infer<typeof AskAround>;
