import { type DateReading, recogniseDate } from './packet-date-forms.js';
import {
  comparePlainDates,
  daysInMonth,
  earlierDate,
  formatPlainDate,
  laterDate,
  type PlainDate,
  plainDateOf,
} from './plain-date.js';
import { accept, type Result, refuse } from './result.js';

export type PacketDatePrecision = 'day' | 'month' | 'quarter' | 'year' | 'unknown';

/** What a packet says of its age: the words as read, and every day that they can mean. */
export interface PacketDate {
  readonly asRead: string;
  readonly precision: PacketDatePrecision;
  /** First day it can mean; null when nothing is known. */
  readonly earliest: PlainDate | null;
  /** Last day it can mean, never after the day it was read on; null when nothing is known. */
  readonly latest: PlainDate | null;
}

export interface PacketDateContext {
  /** On rubber "3/94" is a cure date: the third quarter. On anything else it is March. */
  readonly material: 'rubber' | 'other';
  readonly today: PlainDate;
}

export type PacketDateRefusal = 'not-a-date' | 'after-today' | 'century-unclear' | 'unreadable';

/** No packet of this trade is older; so "12" is 2012, and "94" is 1994. A year in full may still say so. */
const firstYearOfShortForms = 1930;
const firstYear = 1850;

interface Span {
  readonly earliest: PlainDate;
  readonly latest: PlainDate;
}

/**
 * Reads a packet's date: "12 May 1956", "12/5/56" (the day first), "1956-05-12", "May 1956", "5/56", "Q3 1994", "3Q94", "1949",
 * "195?", "unknown" or nothing. A maker's code is kept as read, its date unknown, when "code" is written before it.
 *
 * A year of two figures means each century that gives a day from 1930 to today; where both do, the answer spans both, so that
 * whoever takes the earliest day is never too kind. On rubber a single 1 to 4 before the year is a quarter; "03/94" and "7/94" are months.
 */
export function readPacketDate(text: string, context: PacketDateContext): Result<PacketDate, PacketDateRefusal> {
  const asRead = text.trim().replace(/\s+/g, ' ');
  const reading = recogniseDate(asRead, context.material);
  if (reading === null) return refuse('unreadable', unreadable(asRead));
  if (reading.kind === 'unknown') return accept({ asRead, precision: 'unknown', earliest: null, latest: null });
  const spans = spansOf(reading, context.today);
  if (!spans.ok) return spans;
  return accept({ asRead, precision: reading.kind === 'decade' ? 'unknown' : reading.kind, ...spans.value });
}

/** In words, for the field's hint: "third quarter of 1994: 1 Jul 1994 to 30 Sep 1994". */
export function describePacketDate(date: Pick<PacketDate, 'precision' | 'earliest' | 'latest'>): string {
  if (date.earliest === null || date.latest === null) return 'date unknown';
  if (date.precision === 'day' && date.earliest === date.latest) return formatPlainDate(date.earliest);
  const span = `${formatPlainDate(date.earliest)} to ${formatPlainDate(date.latest)}`;
  const year = date.earliest.slice(0, 4);
  if (year !== date.latest.slice(0, 4)) return `some day from ${span}`;
  if (date.precision === 'quarter') return `${quarterWords[quarterOf(date.earliest) - 1]} quarter of ${year}: ${span}`;
  if (date.precision === 'month') return `${formatPlainDate(date.earliest, 'full').slice(2)}: ${span}`;
  return `${year}: ${span}`;
}

const quarterWords = ['first', 'second', 'third', 'fourth'];

function quarterOf(date: PlainDate): number {
  return Math.ceil(Number(date.slice(5, 7)) / 3);
}

/** The days that a reading can mean, none after today. */
function spansOf(reading: Exclude<DateReading, { kind: 'unknown' }>, today: PlainDate): Result<Span, PacketDateRefusal> {
  const readings = yearsOf(reading.year).map((year) => ({ year, span: spanIn(reading, year) }));
  const spans = readings.flatMap(({ span }) => (span.ok ? [span.value] : []));
  const [first] = spans;
  if (first === undefined) return reasonOf(readings, today);
  const past = spans.filter((span) => comparePlainDates(span.earliest, today) <= 0);
  if (past.length === 0)
    return refuse('after-today', `${formatPlainDate(first.earliest)} is after today. Look at the packet again.`);
  if (reading.year.length === 4) {
    if (Number(reading.year) < firstYear)
      return refuse('not-a-date', `${reading.year} is too early for a packet. Look at the packet again.`);
    return accept(joined(past, today));
  }
  const likely = past.filter((span) => Number(span.earliest.slice(0, 4)) >= firstYearOfShortForms);
  if (likely.length === 0) {
    return refuse(
      'century-unclear',
      `The year "${reading.year}" would be 19${reading.year}, or still to come. Write the year in full.`,
    );
  }
  return accept(joined(likely, today));
}

/** A day that no year meant has is refused for the latest of those years that has come. */
function reasonOf(
  readings: readonly { year: number; span: Result<Span, 'not-a-date'> }[],
  today: PlainDate,
): Result<Span, 'not-a-date'> {
  const come = readings.filter(({ year }) => year <= Number(today.slice(0, 4)));
  return (come.at(-1) ?? readings[0])?.span ?? refuse('not-a-date', 'That is not a date.');
}

function joined(spans: readonly Span[], today: PlainDate): Span {
  const earliest = spans.map((span) => span.earliest).reduce(earlierDate);
  const latest = spans.map((span) => span.latest).reduce(laterDate);
  return { earliest, latest: earlierDate(latest, today) };
}

function yearsOf(year: string): number[] {
  return year.length === 4 ? [Number(year)] : [1900 + Number(year), 2000 + Number(year)];
}

function spanIn(reading: Exclude<DateReading, { kind: 'unknown' }>, year: number): Result<Span, 'not-a-date'> {
  switch (reading.kind) {
    case 'day':
      return daysFrom(year, reading.month, reading.day, year, reading.month, reading.day);
    case 'month':
      return daysFrom(year, reading.month, 1, year, reading.month, null);
    case 'quarter':
      return daysFrom(year, reading.quarter * 3 - 2, 1, year, reading.quarter * 3, null);
    case 'year':
      return daysFrom(year, 1, 1, year, 12, 31);
    case 'decade':
      return daysFrom(year, 1, 1, year + 9, 12, 31);
  }
}

/** From one day to another, the last day of its month where null is given. */
function daysFrom(y1: number, m1: number, d1: number, y2: number, m2: number, d2: number | null): Result<Span, 'not-a-date'> {
  const earliest = plainDateOf(y1, m1, d1);
  if (!earliest.ok) return earliest;
  const latest = plainDateOf(y2, m2, d2 ?? daysInMonth(y2, m2));
  if (!latest.ok) return latest;
  return accept({ earliest: earliest.value, latest: latest.value });
}

function unreadable(asRead: string): string {
  const shown = asRead.length > 40 ? `${asRead.slice(0, 40)}…` : asRead;
  return `"${shown}" is not a date that can be read here. Write 12 May 1956, 5/56, Q3 1994, 1949 or unknown; for a maker's code write "code" before it.`;
}
