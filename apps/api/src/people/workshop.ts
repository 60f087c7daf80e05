import { Inject, Injectable } from '@nestjs/common';
import { Database, type Reader } from '../platform/database/database.js';
import { invariant } from '../platform/refusal.js';

export interface WorkshopRow {
  name: string;
  timeZone: string;
  locale: string;
  currency: string;
  isExample: boolean;
}

const selectWorkshop = `
  SELECT name, time_zone AS "timeZone", locale, currency, is_example AS "isExample" FROM workshop`;

/** The workshop's row; null before its set-up. */
export function readWorkshop(reader: Reader): Promise<WorkshopRow | null> {
  return reader.row<WorkshopRow & Record<string, unknown>>(selectWorkshop);
}

/** Making one takes half a millisecond, and every scan asks for the day. */
const dayFormats = new Map<string, Intl.DateTimeFormat>();

function dayFormatOf(timeZone: string): Intl.DateTimeFormat {
  let format = dayFormats.get(timeZone);
  if (format === undefined) {
    format = new Intl.DateTimeFormat('en-GB', {
      timeZone,
      calendar: 'gregory',
      numberingSystem: 'latn',
      year: 'numeric',
      month: '2-digit',
      day: '2-digit',
    });
    dayFormats.set(timeZone, format);
  }
  return format;
}

/** The day that it is in a time zone, `YYYY-MM-DD`. @throws RangeError for a time zone that does not exist */
export function dayIn(timeZone: string, instant: Date): string {
  const parts = dayFormatOf(timeZone).formatToParts(instant);
  const of = (type: string): string => parts.find((part) => part.type === type)?.value ?? '';
  return `${of('year').padStart(4, '0')}-${of('month')}-${of('day')}`;
}

export function todayOf(workshop: Pick<WorkshopRow, 'timeZone'>, now: Date): string {
  return dayIn(workshop.timeZone, now);
}

export function isTimeZone(name: string): boolean {
  try {
    dayIn(name, new Date(0));
    return true;
  } catch {
    return false;
  }
}

/** What time it is; another clock may be put in its place. */
export const NOW = Symbol('corewright:now');

const timeZoneBeforeSetUp = 'UTC';
const millisecondsPerMinute = 60_000;

/** A day and a minute of it, by the workshop's clock. */
export interface Moment {
  readonly date: string;
  readonly minuteOfDay: number;
}

/** What day it is at the workshop, whatever the clock of the server is set to. */
@Injectable()
export class WorkshopClock {
  // A workshop keeps its time zone, so it is read once.
  private timeZone: string | null = null;
  // No zone's clock steps within a minute, and to reckon it takes longer than many a statement.
  private reckoned: { timeZone: string; minute: number; moment: Moment } | null = null;

  constructor(
    private readonly database: Database,
    @Inject(NOW) private readonly now: () => Date,
  ) {}

  /**
   * Today as `YYYY-MM-DD` in the workshop's time zone.
   * @param reader the transaction of who asks from inside one: to wait there for a second connection while all the others
   * do the same would be to wait for ever
   */
  async today(reader: Reader = this.database): Promise<string> {
    return (await this.moment(reader)).date;
  }

  /** Today and the minute of the day by the workshop's clock. @param reader as for `today` */
  async moment(reader: Reader = this.database): Promise<Moment> {
    this.timeZone ??= (await readWorkshop(reader))?.timeZone ?? null;
    const timeZone = this.timeZone ?? timeZoneBeforeSetUp;
    const now = this.now();
    const minute = Math.floor(now.getTime() / millisecondsPerMinute);
    if (this.reckoned?.minute !== minute || this.reckoned.timeZone !== timeZone)
      this.reckoned = { timeZone, minute, moment: momentIn(timeZone, now) };
    return this.reckoned.moment;
  }
}

function momentIn(timeZone: string, instant: Date): Moment {
  const format = new Intl.DateTimeFormat('en-GB', { timeZone, hour: '2-digit', minute: '2-digit', hourCycle: 'h23' });
  const [hours, minutes] = format.format(instant).split(':');
  return { date: dayIn(timeZone, instant), minuteOfDay: Number(hours) * 60 + Number(minutes) };
}

/** The workshop's own currency. */
export async function oursOf(reader: Reader): Promise<string> {
  const workshop = await readWorkshop(reader);
  invariant(workshop, 'a workshop was set up before it had anything that costs');
  return workshop.currency;
}
