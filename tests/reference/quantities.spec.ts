import {
  addDays,
  addMonths,
  addYears,
  dateOfDayNumber,
  dayNumber,
  dayOfWeek,
  daysBetween,
  formatPlainDate,
  parsePlainDate,
} from '@corewright/quantities/plain-date';
import fc from 'fast-check';

// the same runs each time; a failure prints its seed and path
fc.configureGlobal({ seed: 20261125 });

// The independent source is the language's own proleptic Gregorian calendar: Date in UTC (ECMA-262, Time Values and Time Range).
const millisecondsADay = 86_400_000;
const firstDay = -719_162;
const lastDay = 2_932_896;
const anyDay = fc.integer({ min: firstDay, max: lastDay });

function isoOfDay(day: number): string {
  return new Date(day * millisecondsADay).toISOString().slice(0, 10);
}

describe('plain dates against Date in UTC (ECMA-262)', () => {
  it('numbers each day from 1 January 1890 to 31 December 2110 alike, both ways, with its weekday', () => {
    const [from, to] = [Date.UTC(1890, 0, 1) / millisecondsADay, Date.UTC(2110, 11, 31) / millisecondsADay];
    for (let day = from; day <= to; day += 1) {
      const iso = isoOfDay(day);
      if (dayNumber(iso) !== day || dateOfDayNumber(day) !== iso) throw new Error(`Day ${day} is ${iso}`);
      const weekday = new Date(day * millisecondsADay).getUTCDay();
      if (dayOfWeek(iso) !== (weekday === 0 ? 7 : weekday)) throw new Error(`${iso} has another weekday`);
    }
    expect(to - from + 1).toBe(80_718);
  });

  it('numbers any day of the years 1 to 9999 alike', () => {
    fc.assert(
      fc.property(anyDay, (day) => {
        expect(dateOfDayNumber(day)).toBe(isoOfDay(day));
        expect(dayNumber(isoOfDay(day))).toBe(day);
      }),
      { numRuns: 2000 },
    );
    expect([dateOfDayNumber(firstDay), dateOfDayNumber(lastDay)]).toEqual(['0001-01-01', '9999-12-31']);
    expect(() => dateOfDayNumber(lastDay + 1)).toThrow(RangeError);
    expect(() => dateOfDayNumber(firstDay - 1)).toThrow(RangeError);
  });

  it('adds days and counts them as Date does', () => {
    fc.assert(
      fc.property(fc.integer({ min: -400_000, max: 400_000 }), fc.integer({ min: -200_000, max: 200_000 }), (day, days) => {
        expect(addDays(isoOfDay(day), days)).toBe(isoOfDay(day + days));
        expect(daysBetween(isoOfDay(day), isoOfDay(day + days))).toBe(days);
      }),
    );
  });

  it('adds months as Date does where the day exists, and takes the last day of the month where it does not', () => {
    fc.assert(
      fc.property(fc.integer({ min: -100_000, max: 100_000 }), fc.integer({ min: -1200, max: 1200 }), (day, months) => {
        const start = new Date(day * millisecondsADay);
        const lastOfMonth = new Date(Date.UTC(start.getUTCFullYear(), start.getUTCMonth() + months + 1, 0));
        const wanted = Math.min(start.getUTCDate(), lastOfMonth.getUTCDate());
        const expected = new Date(Date.UTC(lastOfMonth.getUTCFullYear(), lastOfMonth.getUTCMonth(), wanted))
          .toISOString()
          .slice(0, 10);
        expect(addMonths(isoOfDay(day), months)).toBe(expected);
      }),
      { numRuns: 1000 },
    );
    expect(addMonths('2026-01-31', 1)).toBe('2026-02-28');
    expect(addYears('2000-02-29', 7)).toBe('2007-02-28');
    expect(addYears('1994-07-01', 10)).toBe('2004-07-01');
  });

  it('accepts a day exactly when Date finds the same one', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1000, max: 9999 }),
        fc.integer({ min: 0, max: 14 }),
        fc.integer({ min: 0, max: 33 }),
        (year, month, day) => {
          const text = `${year}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`;
          const found = new Date(Date.UTC(year, month - 1, day)).toISOString().slice(0, 10);
          expect(parsePlainDate(text).ok).toBe(found === text);
        },
      ),
      { numRuns: 2000 },
    );
  });

  it('refuses with a sentence, throws at what was never checked, and writes dates for people', () => {
    expect(parsePlainDate('1900-02-29')).toEqual({
      ok: false,
      error: { code: 'not-a-date', sentence: '29 Feb is not a date: February 1900 has 28 days.' },
    });
    expect(parsePlainDate('2 Dec 2026')).toMatchObject({
      ok: false,
      error: { sentence: expect.stringMatching(/Key year, month and day/) },
    });
    expect(() => addDays('2026-02-30', 1)).toThrow(RangeError);
    expect(() => dayNumber('2026-2-3')).toThrow(RangeError);
    expect(formatPlainDate('2026-12-02')).toBe('2 Dec 2026');
    expect(formatPlainDate('2026-12-02', 'full')).toBe('2 December 2026');
    expect(formatPlainDate('2026-12-02', 'weekday')).toBe('Wed 2 Dec 2026');
  });
});
