import * as z from 'zod';
import { Id } from './base.js';

export const nicknamesMost = 200;

/** What the workshop calls a part or a place; `forget` where it does so no longer. */
export const CallIt = z.strictObject({
  words: z
    .string()
    .trim()
    .min(1, 'Key what it is called.')
    .max(60, 'That is long for a name that people say. Key sixty characters at most.')
    .regex(/^[^;\r\n]*$/, 'A semicolon stands between two names: key one at a time.'),
  forget: z.boolean().default(false),
});
export type CallIt = z.infer<typeof CallIt>;

/** All that it is called now, with semicolons between. */
export const Called = z.object({ id: Id, nicknames: z.string() });
export type Called = z.infer<typeof Called>;
