import * as z from 'zod';
import { Coded, Id, Instant, Quantity, RequiredText } from './base.js';

/** What a person is warned of, in the words of a workshop. */
export const warningKinds = [
  'cover lost',
  'order late',
  'order put back',
  'date in danger',
  'past its storage life',
  'two want the last',
  'reservation ends',
  'taken by another job',
] as const;
export const WarningKind = z.enum(warningKinds);
export type WarningKind = z.infer<typeof WarningKind>;

/** Raised once; it stands until its cause is gone, or somebody says what was done. */
export const Warning = z.object({
  id: Id,
  kind: WarningKind,
  job: Coded,
  /** where it concerns two jobs */
  otherJob: Coded.nullable(),
  line: z.object({ id: Id, lineNo: z.number().int(), name: z.string(), number: z.string(), needed: Quantity }).nullable(),
  words: z.string(),
  why: z.string(),
  raisedAt: Instant,
  settled: z
    .object({
      at: Instant,
      /** null: its cause was gone, and nobody had to */
      by: z.string().nullable(),
      note: z.string(),
    })
    .nullable(),
});
export type Warning = z.infer<typeof Warning>;

export const WarningList = z.object({
  /** the newest first */
  open: z.array(Warning),
  /** how many are open, should that be more than are listed */
  openTotal: z.number().int(),
  /** of the last days, the newest first */
  settled: z.array(Warning),
});
export type WarningList = z.infer<typeof WarningList>;

export const SettleWarning = z.object({ note: RequiredText });
export type SettleWarning = z.infer<typeof SettleWarning>;
