import * as z from 'zod';
import { Coded, CodeText, Id, Instant, Quantity, RequiredText, ShortText } from './base.js';
import { LotRow, UnitRow } from './goods-in.js';

/** What is said of something that is taken out of a box and named. Its owner is the box's; `placeId` null leaves it where the box lies. */
const beside = { position: true, ownerName: true } as const;
/** `wordsLeft`: what the rest is called from now on; empty leaves it as it is. */
const taken = { id: Id, wordsLeft: ShortText.default('') };
export const UnitOutOfBox = UnitRow.omit(beside).extend(taken);
export const LotOutOfBox = LotRow.omit(beside).extend(taken);
export const NameOutOfBox = z.discriminatedUnion('kind', [UnitOutOfBox, LotOutOfBox]);
export type NameOutOfBox = z.infer<typeof NameOutOfBox>;

export const SayEmpty = z.strictObject({ why: ShortText.default('') });
export const UndoTaking = z.strictObject({ why: RequiredText });
export const TakingParam = z.strictObject({ id: Id, takingId: Id });

/** What was taken out of a box and named, or that it was said to be empty. */
export const BoxTaking = z.object({
  id: Id,
  kind: z.enum(['named', 'emptied']),
  /** null where the box was said to be empty */
  thing: Coded.nullable(),
  quantity: Quantity.nullable(),
  /** how many pieces of the box it was; of an emptied one, how many were not found */
  pieces: z.number().int(),
  labelled: z.boolean(),
  why: z.string(),
  by: z.string(),
  at: Instant,
  /** it was a mistake: who put it right, and why */
  undone: z.object({ by: z.string(), at: Instant, why: z.string() }).nullable(),
});
export type BoxTaking = z.infer<typeof BoxTaking>;

export const BoxPage = z.object({
  id: Id,
  code: CodeText,
  words: z.string(),
  pieceCount: z.number().int().nullable(),
  piecesLeft: z.number().int().nullable(),
  saidEmpty: z.boolean(),
  /** newest first */
  takings: z.array(BoxTaking),
});
export type BoxPage = z.infer<typeof BoxPage>;

export const NamedOutOfBox = z.object({ thing: Coded, takingId: Id, words: z.string(), box: BoxPage });
export type NamedOutOfBox = z.infer<typeof NamedOutOfBox>;
