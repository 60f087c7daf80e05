import {
  dateOfDayNumber,
  dayNumber,
  formatPlainDate,
  isPlainDate,
  type PlainDate,
  weekdayOfDayNumber,
} from '@corewright/quantities/plain-date';
import { accept, type Result, refuse } from '@corewright/quantities/result';

/** A minute of a day by the workshop's clock. There are no time zones here: the workshop has one. */
export interface Moment {
  readonly date: PlainDate;
  /** Minutes since midnight, 0 to 1440. */
  readonly minuteOfDay: number;
}

/** A day that does not follow the week: closed, or with hours of its own. */
export interface CalendarException {
  readonly date: PlainDate;
  readonly reason: string;
  /** Working minutes of that day; closed when left out. */
  readonly minutes?: number;
}

export interface WorkingCalendarFacts {
  /** Working minutes of each weekday, Monday first. */
  readonly weekMinutes: readonly number[];
  readonly exceptions: readonly CalendarException[];
  /** When a working day begins; its minutes follow without a break. 8.00 when left out, or earlier where the longest day needs it. */
  readonly opensAtMinute?: number;
}

/** When the workshop works. Make one with `makeWorkingCalendar`. */
export interface WorkingCalendar {
  readonly opensAtMinute: number;
  readonly weekMinutes: readonly number[];
  /** Day number to minutes, for days that do not follow the week. */
  readonly exceptionMinutes: ReadonlyMap<number, number>;
  readonly exceptionReasons: ReadonlyMap<number, string>;
}

export type CalendarRefusal = 'not-a-calendar' | 'no-working-time';

const minutesInDay = 1440;
const usualOpening = 480;
/** A workshop closed for longer than this has no calendar to promise by. */
const longestClosure = 366;
const mostExceptions = 10_000;

/** Checks a week and its exceptions; refused when a whole year would pass without working time. */
export function makeWorkingCalendar(facts: WorkingCalendarFacts): Result<WorkingCalendar, CalendarRefusal> {
  const fault = faultIn(facts);
  if (fault !== null) return refuse('not-a-calendar', fault);
  if (facts.weekMinutes.every((minutes) => minutes === 0)) {
    return refuse('no-working-time', 'The week has no working time. Give at least one weekday some minutes.');
  }
  const days = facts.exceptions.map((exception) => ({ day: dayNumber(exception.date), ...exception }));
  const calendar: WorkingCalendar = {
    opensAtMinute: openingOf(facts),
    weekMinutes: [...facts.weekMinutes],
    exceptionMinutes: new Map(days.map(({ day, minutes }) => [day, minutes ?? 0])),
    exceptionReasons: new Map(days.map(({ day, reason }) => [day, reason])),
  };
  const closure = closureOverAYear(calendar);
  if (closure === null) return accept(calendar);
  return refuse(
    'no-working-time',
    `Closed for more than a year from ${formatPlainDate(dateOfDayNumber(closure))}. Open a day within it.`,
  );
}

/** Working minutes of a day: 0 when closed. */
export function workingMinutesOn(calendar: WorkingCalendar, date: PlainDate): number {
  return minutesOfDay(calendar, dayNumber(date));
}

/** Why a day does not follow the week; null when it does. */
export function exceptionReason(calendar: WorkingCalendar, date: PlainDate): string | null {
  return calendar.exceptionReasons.get(dayNumber(date)) ?? null;
}

export function firstWorkingDayFrom(calendar: WorkingCalendar, date: PlainDate): PlainDate {
  return dateOfDayNumber(workingDayFrom(calendar, dayNumber(date)));
}

/** The first working day after the date, never the date itself. */
export function nextWorkingDay(calendar: WorkingCalendar, date: PlainDate): PlainDate {
  return dateOfDayNumber(workingDayFrom(calendar, dayNumber(date) + 1));
}

export function compareMoments(a: Moment, b: Moment): number {
  if (a.date !== b.date) return a.date < b.date ? -1 : 1;
  return a.minuteOfDay - b.minuteOfDay;
}

export function laterMoment(a: Moment, b: Moment): Moment {
  return compareMoments(a, b) >= 0 ? a : b;
}

/** When work may begin on a day: its opening, or that of the first working day after it. */
export function openingFrom(calendar: WorkingCalendar, date: PlainDate): Moment {
  return momentAt(workingDayFrom(calendar, dayNumber(date)), calendar.opensAtMinute);
}

/** The end of a working day; throws a RangeError on a day that is closed. */
export function closingOf(calendar: WorkingCalendar, date: PlainDate): Moment {
  const minutes = workingMinutesOn(calendar, date);
  if (minutes === 0) throw new RangeError(`${date} is no working day`);
  return { date, minuteOfDay: calendar.opensAtMinute + minutes };
}

/** The first moment from this one on at which a minute of work can be done. */
export function startOfWork(calendar: WorkingCalendar, from: Moment): Moment {
  checkMoment(from);
  const day = dayNumber(from.date);
  const minutes = minutesOfDay(calendar, day);
  if (minutes > 0 && from.minuteOfDay < calendar.opensAtMinute + minutes) {
    return { date: from.date, minuteOfDay: Math.max(from.minuteOfDay, calendar.opensAtMinute) };
  }
  return momentAt(workingDayFrom(calendar, day + 1), calendar.opensAtMinute);
}

/**
 * When so much work is done that begins at or after a moment. Work that ends with the day ends at its closing, not at the next
 * opening; no work at all ends where it began.
 */
export function addWorkingMinutes(calendar: WorkingCalendar, from: Moment, minutes: number): Moment {
  checkMinutes(minutes);
  checkMoment(from);
  if (minutes === 0) return from;
  const start = startOfWork(calendar, from);
  let day = dayNumber(start.date);
  let left = minutes + start.minuteOfDay - calendar.opensAtMinute;
  for (;;) {
    const today = minutesOfDay(calendar, day);
    if (left <= today) return momentAt(day, calendar.opensAtMinute + left);
    left -= today;
    day += 1;
  }
}

/**
 * The latest moment at which so much work may begin and be done by a moment: the inverse of `addWorkingMinutes`. Where a closing
 * and the next opening would both do, it is the opening.
 */
export function subtractWorkingMinutes(calendar: WorkingCalendar, until: Moment, minutes: number): Moment {
  checkMinutes(minutes);
  checkMoment(until);
  if (minutes === 0) return until;
  let day = dayNumber(until.date);
  let left = minutes - minutesWorkedBy(calendar, until);
  while (left > 0) {
    day -= 1;
    left -= minutesOfDay(calendar, day);
  }
  return momentAt(day, calendar.opensAtMinute - left);
}

/** Working minutes from one moment to a later one; 0 when the second is not later. */
export function workingMinutesBetween(calendar: WorkingCalendar, from: Moment, to: Moment): number {
  checkMoment(from);
  checkMoment(to);
  if (compareMoments(from, to) >= 0) return 0;
  let sum = minutesWorkedBy(calendar, to) - minutesWorkedBy(calendar, from);
  const last = dayNumber(to.date);
  for (let day = dayNumber(from.date); day < last; day += 1) sum += minutesOfDay(calendar, day);
  return sum;
}

/** Working minutes of the moment's own day that lie before it. */
function minutesWorkedBy(calendar: WorkingCalendar, moment: Moment): number {
  const minutes = workingMinutesOn(calendar, moment.date);
  return Math.min(Math.max(moment.minuteOfDay - calendar.opensAtMinute, 0), minutes);
}

function minutesOfDay(calendar: WorkingCalendar, day: number): number {
  return calendar.exceptionMinutes.get(day) ?? calendar.weekMinutes[weekdayOfDayNumber(day) - 1] ?? 0;
}

/** Ends, for `makeWorkingCalendar` saw to it that no closure lasts longer than a year. */
function workingDayFrom(calendar: WorkingCalendar, day: number): number {
  let found = day;
  while (minutesOfDay(calendar, found) === 0) found += 1;
  return found;
}

function momentAt(day: number, minuteOfDay: number): Moment {
  return { date: dateOfDayNumber(day), minuteOfDay };
}

/** The first day of a closure of more than a year, or null. Only a closed exception can begin or prolong one. */
function closureOverAYear(calendar: WorkingCalendar): number | null {
  const closed = [...calendar.exceptionMinutes].filter(([, minutes]) => minutes === 0).map(([day]) => day);
  let seenTo = Number.NEGATIVE_INFINITY;
  for (const day of closed.sort((a, b) => a - b)) {
    if (day <= seenTo) continue;
    let first = day;
    while (minutesOfDay(calendar, first - 1) === 0) first -= 1;
    seenTo = day;
    while (minutesOfDay(calendar, seenTo + 1) === 0) {
      seenTo += 1;
      if (seenTo - first >= longestClosure) return first;
    }
  }
  return null;
}

function openingOf(facts: WorkingCalendarFacts): number {
  return facts.opensAtMinute ?? Math.min(usualOpening, minutesInDay - longestDay(facts));
}

function longestDay(facts: WorkingCalendarFacts): number {
  return Math.max(...facts.weekMinutes, 0, ...facts.exceptions.map((exception) => exception.minutes ?? 0));
}

function faultIn(facts: WorkingCalendarFacts): string | null {
  if (facts.weekMinutes.length !== 7) return 'A week has seven days: give the minutes of each, Monday first.';
  if (facts.exceptions.length > mostExceptions) return `At most ${mostExceptions} days can be told apart from the week.`;
  const minutes = [...facts.weekMinutes, ...facts.exceptions.map((exception) => exception.minutes ?? 0)];
  const wrong = minutes.find((each) => !Number.isInteger(each) || each < 0 || each > minutesInDay);
  if (wrong !== undefined) return `${wrong} is not the working minutes of a day. Give a whole number from 0 to ${minutesInDay}.`;
  const dates = facts.exceptions.map((exception) => exception.date);
  const bad = dates.find((date) => !isPlainDate(date));
  if (bad !== undefined) return `"${bad.slice(0, 40)}" is not a date.`;
  const seen = new Set<PlainDate>();
  const twice = dates.find((date) => seen.size === seen.add(date).size);
  if (twice !== undefined) return `${formatPlainDate(twice)} is given twice.`;
  const opening = openingOf(facts);
  if (!Number.isInteger(opening) || opening < 0 || opening + longestDay(facts) > minutesInDay) {
    return 'The longest day would end after midnight. Let it begin earlier, or make it shorter.';
  }
  return null;
}

function checkMinutes(minutes: number): void {
  if (!Number.isSafeInteger(minutes) || minutes < 0) throw new RangeError(`Not a number of working minutes: ${minutes}`);
}

function checkMoment(moment: Moment): void {
  const { minuteOfDay } = moment;
  if (!Number.isInteger(minuteOfDay) || minuteOfDay < 0 || minuteOfDay > minutesInDay)
    throw new RangeError(`Not a minute of a day: ${minuteOfDay}`);
}
