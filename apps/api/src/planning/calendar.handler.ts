import type { CloseDay, WorkingCalendar } from '@corewright/contracts/planning';
import { formatPlainDate } from '@corewright/quantities/plain-date';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import { badInput, done, type Result, refused } from '../platform/refusal.js';
import { readCalendar } from './calendar.queries.js';

type Calendar = z.infer<typeof WorkingCalendar>;

const updateWeek = `
  UPDATE working_week SET minutes = given.minutes
    FROM unnest($1::smallint[]) WITH ORDINALITY AS given (minutes, weekday)
   WHERE working_week.weekday = given.weekday`;
const insertClosed = `
  INSERT INTO closed_days (day, reason) VALUES ($1, $2) ON CONFLICT (day) DO UPDATE SET reason = EXCLUDED.reason`;
const deleteClosed = 'DELETE FROM closed_days WHERE day = $1 RETURNING day';

@Injectable()
export class CalendarHandler {
  async setWeek(transaction: Transaction, weekMinutes: readonly number[]): Promise<Result<Calendar>> {
    if (weekMinutes.every((minutes) => minutes === 0))
      return refused(
        badInput('weekMinutes', 'A week with no working time never finishes a job. Key the minutes of one day at least.'),
      );
    await transaction.rows(updateWeek, [weekMinutes]);
    return this.changed(transaction);
  }

  /** A day that is shut already takes the new reason. */
  async closeDay(transaction: Transaction, input: z.infer<typeof CloseDay>): Promise<Result<Calendar>> {
    await transaction.rows(insertClosed, [input.day, input.reason]);
    return this.changed(transaction);
  }

  async openDay(transaction: Transaction, day: string): Promise<Result<Calendar>> {
    const opened = await transaction.row(deleteClosed, [day]);
    if (!opened)
      return refused({
        status: 404,
        code: 'not-found',
        title: 'Not a closed day',
        detail: `${formatPlainDate(day)} is not among the days on which the workshop is shut. Look at the list as it is now.`,
      });
    return this.changed(transaction);
  }

  private async changed(transaction: Transaction): Promise<Result<Calendar>> {
    // Every date that the workshop could give may be another one now.
    transaction.news('settings', 'jobs', 'today');
    return done(await readCalendar(transaction));
  }
}
