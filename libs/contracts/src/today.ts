import * as z from 'zod';
import { Coded, PlainDate } from './base.js';

export const TodayItem = z.object({
  id: z.string(),
  section: z.enum(['dates in danger', 'critical and lacking', 'coming late', 'stores']),
  tag: Coded.nullable(),
  title: z.string(),
  reason: z.string(),
  action: z.object({ words: z.string(), path: z.string() }),
});
export type TodayItem = z.infer<typeof TodayItem>;
export const RulerMark = z.object({
  day: PlainDate,
  kind: z.enum(['promised', 'receipt', 'closed']),
  words: z.string(),
  path: z.string().nullable(),
  certain: z.boolean(),
});
export const Today = z.object({
  day: PlainDate,
  items: z.array(TodayItem),
  ruler: z.array(RulerMark),
  days: z.array(z.object({ day: PlainDate, working: z.boolean() })),
});
export type Today = z.infer<typeof Today>;
