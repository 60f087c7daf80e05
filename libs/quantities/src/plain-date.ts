import { accept, type Result, refuse } from './result.js';

/**
 * A day of the workshop's calendar, "YYYY-MM-DD": no time of day, no time zone. Gregorian throughout, years 1 to 9999.
 * Two of them compare as text. Functions here throw a RangeError when given text that is no such day.
 */
export type PlainDate = string;

/** 1 is Monday and 7 is Sunday, as in ISO 8601. */
export type Weekday = 1 | 2 | 3 | 4 | 5 | 6 | 7;

const monthNames = 'January February March April May June July August September October November December'.split(' ');
const weekdayNames = 'Monday Tuesday Wednesday Thursday Friday Saturday Sunday'.split(' ');
const daysOfMonths = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
/** Days in 400 years: the Gregorian calendar repeats after them. */
const daysInCycle = 146_097;
/** Days from 1 March of the year 0 to 1 January 1970. */
const daysToEpoch = 719_468;

/** Reads "YYYY-MM-DD" and checks that the calendar has such a day. */
export function parsePlainDate(text: string): Result<PlainDate, 'not-a-date'> {
  const match = /^(\d{4})-(\d\d)-(\d\d)$/.exec(text.trim());
  if (!match) return refuse('not-a-date', `"${text.trim().slice(0, 40)}" is not a date. Key year, month and day: 2026-12-02.`);
  return plainDateOf(Number(match[1]), Number(match[2]), Number(match[3]));
}

/** A date from its parts, refused with a sentence when the calendar has no such day. */
export function plainDateOf(year: number, month: number, day: number): Result<PlainDate, 'not-a-date'> {
  if (year < 1 || year > 9999) return refuse('not-a-date', `${year} is not a year that can be kept.`);
  const monthName = monthNames[month - 1];
  if (monthName === undefined) return refuse('not-a-date', `There is no month ${month}. Months go from 1 to 12.`);
  const short = `${day} ${monthName.slice(0, 3)}`;
  if (day < 1) return refuse('not-a-date', `${short} is not a date. Days are counted from 1.`);
  const days = daysInMonth(year, month);
  if (day > days) return refuse('not-a-date', `${short} is not a date: ${monthName} ${year} has ${days} days.`);
  return accept(isoText(year, month, day));
}

export function isPlainDate(text: string): boolean {
  return parsePlainDate(text).ok && text.length === 10;
}

/** Days since 1 January 1970, negative before it. */
export function dayNumber(date: PlainDate): number {
  const { year, month, day } = partsOf(date);
  // Years are counted from 1 March, so that the leap day is the last day of its year. 153 days make up each five months from March on.
  const marchYear = month > 2 ? year : year - 1;
  const monthsSinceMarch = (month + 9) % 12;
  const dayOfYear = Math.floor((153 * monthsSinceMarch + 2) / 5) + day - 1;
  return (
    marchYear * 365 +
    Math.floor(marchYear / 4) -
    Math.floor(marchYear / 100) +
    Math.floor(marchYear / 400) +
    dayOfYear -
    daysToEpoch
  );
}

/** The date of a day number; throws a RangeError outside the years 1 to 9999. */
export function dateOfDayNumber(number: number): PlainDate {
  if (!Number.isSafeInteger(number)) throw new RangeError(`Not a day number: ${number}`);
  const shifted = number + daysToEpoch;
  const cycle = Math.floor(shifted / daysInCycle);
  const dayOfCycle = shifted - cycle * daysInCycle;
  // take the leap days out, so that every year has 365: one each 1461 days, save one each 36524, and one at the cycle's end
  const leapDays = Math.floor(dayOfCycle / 1460) - Math.floor(dayOfCycle / 36_524) + Math.floor(dayOfCycle / 146_096);
  const yearOfCycle = Math.floor((dayOfCycle - leapDays) / 365);
  const dayOfYear = dayOfCycle - (365 * yearOfCycle + Math.floor(yearOfCycle / 4) - Math.floor(yearOfCycle / 100));
  const monthsSinceMarch = Math.floor((5 * dayOfYear + 2) / 153);
  const day = dayOfYear - Math.floor((153 * monthsSinceMarch + 2) / 5) + 1;
  const month = monthsSinceMarch < 10 ? monthsSinceMarch + 3 : monthsSinceMarch - 9;
  const year = cycle * 400 + yearOfCycle + (month <= 2 ? 1 : 0);
  if (year < 1 || year > 9999) throw new RangeError(`Day ${number} lies outside the years 1 to 9999`);
  return isoText(year, month, day);
}

export function addDays(date: PlainDate, days: number): PlainDate {
  return dateOfDayNumber(dayNumber(date) + days);
}

/**
 * The same day so many months on. Where that month is too short, its last day: the end of January and one month is the
 * end of February. The day is never later than asked for, so a period reckoned so is never too long: the less favourable reading.
 */
export function addMonths(date: PlainDate, months: number): PlainDate {
  if (!Number.isSafeInteger(months)) throw new RangeError(`Not a whole number of months: ${months}`);
  const { year, month, day } = partsOf(date);
  const monthIndex = year * 12 + (month - 1) + months;
  const yearThen = Math.floor(monthIndex / 12);
  const monthThen = monthIndex - yearThen * 12 + 1;
  if (yearThen < 1 || yearThen > 9999) throw new RangeError(`${date} and ${months} months lies outside the years 1 to 9999`);
  return isoText(yearThen, monthThen, Math.min(day, daysInMonth(yearThen, monthThen)));
}

/** The same day so many years on; 29 February falls on 28 February where the year has no leap day, as in `addMonths`. */
export function addYears(date: PlainDate, years: number): PlainDate {
  return addMonths(date, years * 12);
}

export function daysBetween(from: PlainDate, to: PlainDate): number {
  return dayNumber(to) - dayNumber(from);
}

export function dayOfWeek(date: PlainDate): Weekday {
  return weekdayOfDayNumber(dayNumber(date));
}

/** 1 January 1970 was a Thursday. */
export function weekdayOfDayNumber(number: number): Weekday {
  return (((((number + 3) % 7) + 7) % 7) + 1) as Weekday;
}

export function comparePlainDates(a: PlainDate, b: PlainDate): -1 | 0 | 1 {
  if (a === b) return 0;
  return a < b ? -1 : 1;
}

export function earlierDate(a: PlainDate, b: PlainDate): PlainDate {
  return a < b ? a : b;
}

export function laterDate(a: PlainDate, b: PlainDate): PlainDate {
  return a > b ? a : b;
}

export function isLeapYear(year: number): boolean {
  return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
}

export function daysInMonth(year: number, month: number): number {
  if (month === 2 && isLeapYear(year)) return 29;
  const days = daysOfMonths[month - 1];
  if (days === undefined) throw new RangeError(`There is no month ${month}`);
  return days;
}

/** For people: "2 Dec 2026", in full "2 December 2026", with its weekday "Wed 2 Dec 2026". */
export function formatPlainDate(date: PlainDate, form: 'short' | 'full' | 'weekday' = 'short'): string {
  const { year, month, day } = partsOf(date);
  const monthName = monthNames[month - 1] ?? '';
  const words = `${day} ${form === 'full' ? monthName : monthName.slice(0, 3)} ${year}`;
  return form === 'weekday' ? `${weekdayNames[dayOfWeek(date) - 1]?.slice(0, 3)} ${words}` : words;
}

function partsOf(date: PlainDate): { year: number; month: number; day: number } {
  const parts = { year: Number(date.slice(0, 4)), month: Number(date.slice(5, 7)), day: Number(date.slice(8)) };
  if (!/^\d{4}-\d\d-\d\d$/.test(date) || !plainDateOf(parts.year, parts.month, parts.day).ok)
    throw new RangeError(`Not a plain date: ${date}`);
  return parts;
}

function isoText(year: number, month: number, day: number): PlainDate {
  return `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`;
}
