import type { WorkingCalendar } from '@corewright/contracts/planning';
import type * as z from 'zod';
import type { Reader } from '../platform/database/database.js';

const selectWeek = 'SELECT minutes FROM working_week ORDER BY weekday';
const selectClosed = 'SELECT day, reason FROM closed_days ORDER BY day';

/** Minutes worked on each day of the week, Monday first, and the days on which the workshop is shut. */
export async function readCalendar(reader: Reader): Promise<z.infer<typeof WorkingCalendar>> {
  const week = await reader.rows<{ minutes: number }>(selectWeek);
  const closedDays = await reader.rows<{ day: string; reason: string }>(selectClosed);
  return { weekMinutes: week.map((day) => day.minutes), closedDays };
}
