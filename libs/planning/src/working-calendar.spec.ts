import {
  addWorkingMinutes,
  exceptionReason,
  firstWorkingDayFrom,
  makeWorkingCalendar,
  nextWorkingDay,
  openingFrom,
  startOfWork,
  type WorkingCalendarFacts,
  workingMinutesBetween,
  workingMinutesOn,
} from './working-calendar.js';

const week = [480, 480, 480, 480, 420, 0, 0];

function calendarOf(facts: Partial<WorkingCalendarFacts> = {}) {
  const made = makeWorkingCalendar({ weekMinutes: week, exceptions: [], ...facts });
  if (!made.ok) throw new Error(made.error.sentence);
  return made.value;
}

describe('a working calendar', () => {
  // 25 November 2026 is a Wednesday
  const christmas = calendarOf({
    exceptions: [
      { date: '2026-12-25', reason: 'Christmas Day' },
      { date: '2026-12-28', reason: 'Christmas shut-down' },
      { date: '2026-12-29', reason: 'Christmas shut-down' },
      { date: '2027-01-02', reason: 'Saturday for the Pellow axles', minutes: 240 },
    ],
  });

  it('works its week, save on the days that are told apart', () => {
    expect(workingMinutesOn(christmas, '2026-11-25')).toBe(480);
    expect(workingMinutesOn(christmas, '2026-11-27')).toBe(420);
    expect(workingMinutesOn(christmas, '2026-11-28')).toBe(0);
    expect(workingMinutesOn(christmas, '2026-12-25')).toBe(0);
    expect(workingMinutesOn(christmas, '2027-01-02')).toBe(240);
    expect(exceptionReason(christmas, '2026-12-28')).toBe('Christmas shut-down');
    expect(exceptionReason(christmas, '2026-12-30')).toBeNull();
  });

  it('finds the next working day over a weekend and a shut-down', () => {
    expect(nextWorkingDay(christmas, '2026-11-27')).toBe('2026-11-30');
    expect(nextWorkingDay(christmas, '2026-12-24')).toBe('2026-12-30');
    expect(firstWorkingDayFrom(christmas, '2026-12-25')).toBe('2026-12-30');
    expect(firstWorkingDayFrom(christmas, '2026-12-24')).toBe('2026-12-24');
    expect(openingFrom(christmas, '2026-11-28')).toEqual({ date: '2026-11-30', minuteOfDay: 480 });
  });

  it('begins at the opening, goes on within the day, and after closing begins on the next', () => {
    expect(startOfWork(christmas, { date: '2026-11-25', minuteOfDay: 0 })).toEqual({ date: '2026-11-25', minuteOfDay: 480 });
    expect(startOfWork(christmas, { date: '2026-11-25', minuteOfDay: 640 })).toEqual({ date: '2026-11-25', minuteOfDay: 640 });
    expect(startOfWork(christmas, { date: '2026-11-25', minuteOfDay: 960 })).toEqual({ date: '2026-11-26', minuteOfDay: 480 });
  });

  it('ends a full day at its closing, one minute more on the next day, and nothing where it began', () => {
    const opening = { date: '2026-11-26', minuteOfDay: 480 };
    expect(addWorkingMinutes(christmas, opening, 480)).toEqual({ date: '2026-11-26', minuteOfDay: 960 });
    expect(addWorkingMinutes(christmas, opening, 481)).toEqual({ date: '2026-11-27', minuteOfDay: 481 });
    expect(addWorkingMinutes(christmas, opening, 480 + 420 + 1)).toEqual({ date: '2026-11-30', minuteOfDay: 481 });
    expect(addWorkingMinutes(christmas, { date: '2026-11-28', minuteOfDay: 600 }, 0)).toEqual({
      date: '2026-11-28',
      minuteOfDay: 600,
    });
  });

  it('counts working minutes between two moments, and none backwards', () => {
    const [from, to] = [
      { date: '2026-12-24', minuteOfDay: 900 },
      { date: '2026-12-30', minuteOfDay: 540 },
    ];
    expect(workingMinutesBetween(christmas, from, to)).toBe(120);
    expect(workingMinutesBetween(christmas, to, from)).toBe(0);
  });

  it('lets a round-the-clock day begin at midnight', () => {
    expect(calendarOf({ weekMinutes: [1440, 1440, 1440, 1440, 1440, 1440, 1440] }).opensAtMinute).toBe(0);
  });

  it('refuses a week without work, and a closure of more than a year', () => {
    expect(makeWorkingCalendar({ weekMinutes: [0, 0, 0, 0, 0, 0, 0], exceptions: [] })).toMatchObject({
      error: { code: 'no-working-time' },
    });
    // work on Mondays only, and 53 Mondays closed
    const mondays = Array.from({ length: 53 }, (_, index) => ({
      date: new Date(Date.UTC(2026, 10, 30 + index * 7)).toISOString().slice(0, 10),
      reason: 'away',
    }));
    const closed = makeWorkingCalendar({ weekMinutes: [480, 0, 0, 0, 0, 0, 0], exceptions: mondays });
    expect(closed).toEqual({
      ok: false,
      error: { code: 'no-working-time', sentence: 'Closed for more than a year from 24 Nov 2026. Open a day within it.' },
    });
    expect(makeWorkingCalendar({ weekMinutes: [480, 0, 0, 0, 0, 0, 0], exceptions: mondays.slice(0, 50) }).ok).toBe(true);
  });

  it.each([
    [{ weekMinutes: [480] }, /seven days/],
    [{ weekMinutes: [480, 480, 480, 480, 480, 0, -1] }, /-1 is not the working minutes/],
    [{ weekMinutes: [480.5, 480, 480, 480, 480, 0, 0] }, /whole number/],
    [{ exceptions: [{ date: '2026-02-30', reason: 'x' }] }, /"2026-02-30" is not a date/],
    [
      {
        exceptions: [
          { date: '2026-12-25', reason: 'x' },
          { date: '2026-12-25', reason: 'y' },
        ],
      },
      /25 Dec 2026 is given twice/,
    ],
    [{ opensAtMinute: 1000 }, /after midnight/],
  ])('refuses %j', (facts, sentence) => {
    expect(makeWorkingCalendar({ weekMinutes: week, exceptions: [], ...facts })).toMatchObject({
      error: { code: 'not-a-calendar', sentence: expect.stringMatching(sentence) },
    });
  });

  it('throws at times that cannot be', () => {
    expect(() => addWorkingMinutes(christmas, { date: '2026-11-25', minuteOfDay: 480 }, -1)).toThrow(RangeError);
    expect(() => startOfWork(christmas, { date: '2026-11-25', minuteOfDay: 1441 })).toThrow(RangeError);
  });
});
