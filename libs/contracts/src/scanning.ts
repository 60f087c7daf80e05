import * as z from 'zod';
import { CodeInput, CodeText, Id } from './base.js';

export const ScanParam = z.strictObject({ code: CodeInput });

/** What a code is on, with what the screen needs to say so at once. */
export const ScanAnswer = z.object({
  code: CodeText,
  kind: z.enum(['unit', 'lot', 'component', 'unsorted', 'place', 'job', 'badge', 'command']),
  id: Id,
  voided: z.boolean(),
  name: z.string(),
  detail: z.string(),
  where: z.string(),
  quantity: z.string(),
  free: z.string(),
  warning: z.string().nullable(),
  /** for a command card: the mode or choice it stands for */
  command: z.string().nullable(),
});
export type ScanAnswer = z.infer<typeof ScanAnswer>;

/** The command cards: what a printed card switches to or chooses. The order gives their codes: K 000001 is the first. */
export const commandCards = [
  'look',
  'pick',
  'fit',
  'put away',
  'choice 1',
  'choice 2',
  'choice 3',
  'take back',
  'count',
  'all is scanned',
] as const;
export type CommandCard = (typeof commandCards)[number];
