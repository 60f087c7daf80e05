import { readFileSync } from 'node:fs';
import { type Operation, type Schedule, scheduleNetwork } from '@corewright/planning/job-network';
import {
  addWorkingMinutes,
  makeWorkingCalendar,
  startOfWork,
  subtractWorkingMinutes,
  workingMinutesBetween,
} from '@corewright/planning/working-calendar';
import fc from 'fast-check';

// the same runs each time; a failure prints its seed and path
fc.configureGlobal({ seed: 20261125 });

function calendarOf(
  weekMinutes: readonly number[],
  exceptions: { date: string; reason: string; minutes?: number }[] = [],
  opensAtMinute?: number,
) {
  const made = makeWorkingCalendar({ weekMinutes, exceptions, ...(opensAtMinute !== undefined && { opensAtMinute }) });
  if (!made.ok) throw new Error(made.error.sentence);
  return made.value;
}

/** Every minute is a working one, so that working time is plain elapsed time. */
const roundTheClock = calendarOf([1440, 1440, 1440, 1440, 1440, 1440, 1440]);
const origin = { date: '2026-11-25', minuteOfDay: 0 };

function scheduled(operations: readonly Operation[]): Schedule {
  const schedule = scheduleNetwork(roundTheClock, origin, operations);
  if (!schedule.ok) throw new Error(schedule.error.sentence);
  return schedule.value;
}

function elapsed(schedule: Schedule): number {
  return workingMinutesBetween(roundTheClock, origin, schedule.finish);
}

/** "A 5,5,7; B 1,2,5 <A": optimistic, likely and pessimistic time, and what comes before. Six times (o + 4 m + p) / 6 is whole. */
function threePointNetwork(words: string): Operation[] {
  return words.split('; ').map((activity) => {
    const match = /^(\w+) (\d+),(\d+),(\d+)(?: <([\w,]+))?$/.exec(activity);
    if (!match) throw new Error(activity);
    const [, id = '', optimistic, likely, pessimistic, before] = match;
    return {
      id,
      name: id,
      remainingMinutes: Number(optimistic) + 4 * Number(likely) + Number(pessimistic),
      predecessors: before?.split(',') ?? [],
    };
  });
}

function path(schedule: Schedule): string {
  return schedule.chain.map(({ operationId }) => operationId).join('');
}

describe('critical paths against published examples', () => {
  it('four activities in a row, expected times (o + 4 m + p) / 6: 24 weeks (Taylor, Introduction to Management Science, as shown at flylib.com)', () => {
    const schedule = scheduled(threePointNetwork('A 5,8,17; B 3,5,7 <A; C 4,6,8 <B; D 3,4,5 <C'));
    expect(elapsed(schedule)).toBe(24 * 6);
    expect(path(schedule)).toBe('ABCD');
  });

  it('fourteen activities: path ACEHIKMN, 50.8333 (times from wizedu.com question 717873, total recomputed)', () => {
    const words =
      'A 5,5,7; B 1,2,5; C 5,5,5 <A; D 4,8,13 <A; E 1,10,17 <B,C; F 1,5,7 <D; G 2,6,9 <D; H 4,4,6 <E,F; I 2,7,10 <G,H; J 2,4,7 <I; K 6,10,13 <I; L 2,6,6 <J; M 2,2,3 <K; N 7,7,12 <L,M';
    const schedule = scheduled(threePointNetwork(words));
    expect(elapsed(schedule) / 6).toBeCloseTo(50.8333, 4);
    expect(path(schedule)).toBe('ACEHIKMN');
  });

  const psplib = JSON.parse(readFileSync(new URL('./psplib-critical-paths.json', import.meta.url), 'utf8')) as {
    instances: { name: string; criticalPath: number; durations: number[]; successors: number[][] }[];
  };

  it('has a dozen instances of PSPLIB to compare', () => {
    expect(psplib.instances.map(({ durations }) => durations.length).sort()).toEqual([
      ...Array(8).fill(32),
      ...Array(4).fill(62),
    ]);
  });

  it.each(psplib.instances)(
    '$name of PSPLIB (Kolisch and Sprecher 1997): critical path $criticalPath',
    ({ criticalPath, durations, successors }) => {
      const operations = durations.map((remainingMinutes, index) => ({
        id: String(index + 1),
        name: `activity ${index + 1}`,
        remainingMinutes,
        predecessors: successors.flatMap((after, before) => (after.includes(index + 1) ? [String(before + 1)] : [])),
      }));
      const schedule = scheduled(operations);
      expect(elapsed(schedule)).toBe(criticalPath);
      expect(schedule.chain.reduce((sum, { minutes }) => sum + minutes, 0)).toBe(criticalPath);
    },
  );
});

describe('working time against a count, minute by minute, on Date in UTC (ECMA-262)', () => {
  const firstMinute = Date.UTC(2026, 10, 25) / 60_000;
  const opens = 500;
  const week = [7, 5, 0, 9, 3, 0, 1];
  const closed = { date: '2026-12-03', reason: 'stock-taking' };
  const open = { date: '2026-12-05', reason: 'a Saturday worked', minutes: 4 };
  const calendar = calendarOf(week, [closed, open], opens);

  function isoOf(minute: number): string {
    return new Date(minute * 60_000).toISOString().slice(0, 10);
  }
  function momentOf(minute: number) {
    return { date: isoOf(minute), minuteOfDay: minute % 1440 };
  }
  function minuteOf(moment: { date: string; minuteOfDay: number }): number {
    return Date.parse(moment.date) / 60_000 + moment.minuteOfDay;
  }
  /** Whether the minute that begins here is worked. */
  function isWorked(minute: number): boolean {
    const iso = isoOf(minute);
    const minutes =
      iso === closed.date ? 0 : iso === open.date ? open.minutes : (week[(new Date(minute * 60_000).getUTCDay() + 6) % 7] ?? 0);
    return minute % 1440 >= opens && minute % 1440 < opens + minutes;
  }

  const startMinutes = fc.oneof(
    fc.integer({ min: 0, max: 21 * 1440 }),
    fc
      .tuple(fc.integer({ min: 0, max: 21 }), fc.integer({ min: opens - 2, max: opens + 10 }))
      .map(([day, minute]) => day * 1440 + minute),
  );

  it('starts, adds and counts alike', () => {
    fc.assert(
      fc.property(startMinutes, fc.integer({ min: 1, max: 15 }), (offset, minutes) => {
        const from = firstMinute + offset;
        let at = from;
        while (!isWorked(at)) at += 1;
        expect(minuteOf(startOfWork(calendar, momentOf(from)))).toBe(at);
        let left = minutes;
        for (;;) {
          if (isWorked(at)) left -= 1;
          at += 1;
          if (left === 0) break;
        }
        expect(minuteOf(addWorkingMinutes(calendar, momentOf(from), minutes))).toBe(at);
        expect(workingMinutesBetween(calendar, momentOf(from), momentOf(at))).toBe(minutes);
      }),
      { numRuns: 200 },
    );
  });

  it('goes back to the latest moment from which the work is done in time', () => {
    fc.assert(
      fc.property(startMinutes, fc.integer({ min: 1, max: 15 }), (offset, minutes) => {
        const until = firstMinute + 30 * 1440 + offset;
        const latest = subtractWorkingMinutes(calendar, momentOf(until), minutes);
        expect(minuteOf(addWorkingMinutes(calendar, latest, minutes))).toBeLessThanOrEqual(until);
        // one minute later would be too late
        expect(minuteOf(addWorkingMinutes(calendar, momentOf(minuteOf(latest) + 1), minutes))).toBeGreaterThan(until);
        expect(isWorked(minuteOf(latest))).toBe(true);
      }),
      { numRuns: 200 },
    );
  });
});
