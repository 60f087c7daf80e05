import * as z from 'zod';
import { CodeText, Cursor, Id, Instant } from './base.js';

export const historyMost = 500;

/** What is on record of a thing, a part or a place; of some kinds only, where they are named. */
export const HistoryQuery = z.strictObject({
  /** kinds, one after another with commas */
  kinds: z
    .string()
    .max(400)
    .regex(/^[a-z-]*(,[a-z-]+)*$/, 'Those are no kinds of entries.')
    .default(''),
  cursor: Cursor.optional(),
  limit: z.coerce.number().int().min(1).max(historyMost).default(50),
});
export type HistoryQuery = z.infer<typeof HistoryQuery>;

export const HistoryEntry = z.object({
  id: Id,
  kind: z.string(),
  /** when it was recorded, which is its place in the order */
  at: Instant,
  /** when it was done, which may be earlier where a scan waited for the network */
  doneAt: Instant,
  title: z.string(),
  detail: z.string(),
  by: z.string(),
  /** it was taken back since */
  isTakenBack: z.boolean(),
  /** which thing it was, in the history of a part or a place */
  thing: z.object({ id: Id, code: CodeText.nullable(), name: z.string() }).nullable(),
});
export type HistoryEntry = z.infer<typeof HistoryEntry>;

/** Newest first. */
export const HistoryPage = z.object({
  entries: z.array(HistoryEntry),
  /** every kind of entry that there can be here, in words */
  kinds: z.array(z.object({ kind: z.string(), words: z.string() })),
  cursor: z.string().nullable(),
});
export type HistoryPage = z.infer<typeof HistoryPage>;
