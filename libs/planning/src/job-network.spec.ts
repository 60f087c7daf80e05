import { type Operation, scheduleNetwork } from './job-network.js';
import { makeWorkingCalendar } from './working-calendar.js';

const made = makeWorkingCalendar({ weekMinutes: [480, 480, 480, 480, 420, 0, 0], exceptions: [] });
if (!made.ok) throw new Error(made.error.sentence);
const calendar = made.value;
/** Wednesday 25 November 2026, 10.40. */
const now = { date: '2026-11-25', minuteOfDay: 640 };

function scheduled(operations: readonly Operation[]) {
  const schedule = scheduleNetwork(calendar, now, operations);
  if (!schedule.ok) throw new Error(schedule.error.sentence);
  return schedule.value;
}

function operation(id: string, remainingMinutes: number, facts: Partial<Operation> = {}): Operation {
  return { id, name: `operation ${id}`, remainingMinutes, ...facts };
}

describe('a network of operations on a calendar', () => {
  it('follows the list where nothing else is said: one job, one bench', () => {
    const { finish, chain } = scheduled([operation('30', 320), operation('40', 480)]);
    expect(finish).toEqual({ date: '2026-11-26', minuteOfDay: 960 });
    expect(chain.map(({ operationId, minutes }) => [operationId, minutes])).toEqual([
      ['30', 320],
      ['40', 480],
    ]);
  });

  it('lets operations without predecessors run side by side, and takes the longest way', () => {
    const { finish, chain, operations } = scheduled([
      operation('30', 100, { predecessors: [] }),
      operation('40', 200, { predecessors: [] }),
      operation('50', 10, { predecessors: ['30', '40'] }),
    ]);
    expect(finish).toEqual({ date: '2026-11-25', minuteOfDay: 850 });
    expect(chain.map(({ operationId }) => operationId)).toEqual(['40', '50']);
    expect(operations.find(({ id }) => id === '30')).toMatchObject({ start: now, cause: { kind: 'begins' } });
  });

  it('waits for the opening of the day on which parts come, and begins the chain there', () => {
    const { finish, chain } = scheduled([operation('30', 60), operation('40', 60, { notBefore: '2026-12-05' })]);
    expect(finish).toEqual({ date: '2026-12-07', minuteOfDay: 540 });
    expect(chain.map(({ kind }) => kind)).toEqual(['waits', 'work']);
    // from 10.40 on Wednesday: 320, 480, 420, then 480 four times and 420
    expect(chain.map(({ minutes }) => minutes)).toEqual([320 + 480 + 420 + 4 * 480 + 420, 60]);
  });

  it('does not call a wait what work before it would have held up as long', () => {
    const { chain } = scheduled([operation('30', 320), operation('40', 60, { notBefore: '2026-11-26' })]);
    expect(chain.map(({ kind }) => kind)).toEqual(['work', 'work']);
  });

  it('finishes a part that comes for work already done on the day it comes', () => {
    const { finish } = scheduled([operation('30', 0, { notBefore: '2026-11-30' })]);
    expect(finish).toEqual({ date: '2026-11-30', minuteOfDay: 480 });
  });

  it('keeps the finish of the last work when something without work follows', () => {
    expect(scheduled([operation('30', 320), operation('40', 0)]).finish).toEqual({ date: '2026-11-25', minuteOfDay: 960 });
  });

  it('is finished at the first working moment when nothing is left', () => {
    const { finish, chain } = scheduled([]);
    expect(finish).toEqual(now);
    expect(chain).toEqual([]);
  });

  it('names the circle that it refuses, and nothing outside it', () => {
    const circle = scheduleNetwork(calendar, now, [
      operation('10', 5),
      operation('20', 5, { name: 'Strip', predecessors: ['10', '40'] }),
      operation('30', 5, { name: 'Wash', predecessors: ['20'] }),
      operation('40', 5, { name: 'Build', predecessors: ['30'] }),
      operation('50', 5, { predecessors: ['40'] }),
    ]);
    expect(circle).toEqual({
      ok: false,
      error: {
        code: 'cycle',
        sentence:
          'These operations wait for one another: Strip, then Wash, then Build, then Strip. Take one of them out of the circle.',
      },
    });
  });

  it.each([
    ['cycle', [operation('10', 5, { predecessors: ['10'] })], /operation 10, then operation 10/],
    ['unknown-operation', [operation('10', 5, { predecessors: ['99'] })], /operation 99, which this job does not have/],
    ['listed-twice', [operation('10', 5), operation('10', 5)], /listed twice/],
    ['not-minutes', [operation('10', -5)], /-5 is not a time/],
    ['not-minutes', [operation('10', 2.5)], /whole minutes/],
    ['too-far', [operation('10', 5, { notBefore: '2206-12-02' })], /2 Dec 2206\. Look at that date again/],
    ['too-far', [operation('10', Number.MAX_SAFE_INTEGER)], /more than 50 years/],
  ] as const)('refuses: %s', (code, operations, sentence) => {
    expect(scheduleNetwork(calendar, now, operations)).toEqual({
      ok: false,
      error: { code, sentence: expect.stringMatching(sentence) },
    });
  });
});
