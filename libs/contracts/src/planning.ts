import * as z from 'zod';
import { PlainDate, RequiredText } from './base.js';

/** Minutes worked on each day of the week, Monday first, and the days on which the workshop is shut. */
export const WorkingCalendar = z.object({
  weekMinutes: z.array(z.number().int().min(0).max(1440)).length(7),
  closedDays: z.array(z.object({ day: PlainDate, reason: z.string() })),
});
export const SetWeek = z.strictObject({ weekMinutes: z.array(z.number().int().min(0).max(1440)).length(7) });
export const CloseDay = z.strictObject({ day: PlainDate, reason: RequiredText });
export const DayParam = z.strictObject({ day: PlainDate });
