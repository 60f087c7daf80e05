import { addDays } from '@corewright/quantities/plain-date';
import fc from 'fast-check';
import {
  type EarliestDate,
  type EarliestDateQuestion,
  earliestDate,
  type Need,
  type NeededLine,
  type RemainingOperation,
} from './earliest-date.js';
import { makeWorkingCalendar, nextWorkingDay, startOfWork, workingMinutesBetween } from './working-calendar.js';

// the same runs each time; a failure prints its seed and path
fc.configureGlobal({ seed: 20261125 });

const made = makeWorkingCalendar({
  weekMinutes: [480, 480, 480, 480, 420, 0, 0],
  exceptions: [{ date: '2026-12-25', reason: 'Christmas Day' }],
});
if (!made.ok) throw new Error(made.error.sentence);
const calendar = made.value;
const today = '2026-11-25';
const now = { today, minuteOfDay: 640, calendar };

const operations: readonly RemainingOperation[] = [
  { id: '30', name: 'Worm and thrust', remainingMinutes: 960, person: 'W. Peskett' },
  { id: '50', name: 'Worm wheel, set-up', remainingMinutes: 480 },
  { id: '70', name: 'Close up, fill, test', remainingMinutes: 240 },
];

function line(lineNo: number, operationId: string | null, needs: readonly Need[], critical = false): NeededLine {
  return { id: `line ${lineNo}`, lineNo, name: `part ${lineNo}`, critical, operationId, needs };
}

function order(dueDate: string | null, confirmed = true, receiptId = 'receipt 1'): Need {
  return { kind: 'on-order', quantity: '1', receiptId, dueDate, confirmed, unaccepted: false };
}

const inHand: Need = { kind: 'in-hand', quantity: '1', unaccepted: false };
const otherInHand: Need = { kind: 'in-hand', quantity: '1', unaccepted: true };
const lacking: Need = { kind: 'lacking', quantity: '1' };
const notLookedAt: Need = { kind: 'not-yet-looked-at', quantity: '1' };
const fromCore: Need = { kind: 'from-a-core', quantity: '1' };

function answerTo(facts: Partial<EarliestDateQuestion>): EarliestDate {
  const answer = earliestDate({ ...now, operations, lines: [], ...facts });
  if (!answer.ok) throw new Error(answer.error.sentence);
  return answer.value;
}

function dateOf(answer: EarliestDate): string {
  return answer.kind === 'none' ? answer.ifDate : answer.date;
}

describe('the earliest date of a job', () => {
  it('is firm on hours and calendar alone when all is in hand', () => {
    // 320 minutes are left of Wednesday; 960 + 480 + 240 end on Monday
    const answer = answerTo({ lines: [line(1, '30', [inHand], true)] });
    expect(answer).toMatchObject({ kind: 'firm', date: '2026-11-30', conditions: [], toFind: [] });
    expect(answer.chain.map((link) => link.kind === 'work' && [link.name, link.person, link.minutes])).toEqual([
      ['Worm and thrust', 'W. Peskett', 960],
      ['Worm wheel, set-up', null, 480],
      ['Close up, fill, test', null, 240],
    ]);
  });

  it('is today when nothing is left to do, and the next working day after closing time', () => {
    expect(answerTo({ operations: [] })).toMatchObject({ kind: 'firm', date: today, chain: [] });
    expect(answerTo({ operations: [], minuteOfDay: 1000 })).toMatchObject({ kind: 'firm', date: '2026-11-26' });
    expect(answerTo({ operations: [], today: '2026-11-28' })).toMatchObject({ kind: 'firm', date: '2026-11-30' });
  });

  it('is firm on a confirmed order, whose due day then heads the chain', () => {
    const answer = answerTo({ lines: [line(18, '50', [inHand, order('2026-12-07')])] });
    expect(answer).toMatchObject({ kind: 'firm', date: '2026-12-08' });
    expect(answer.chain[0]).toEqual({
      kind: 'waits-for-receipt',
      operationId: '50',
      until: { date: '2026-12-07', minuteOfDay: 480 },
      minutes: 320 + 480 + 420 + 4 * 480 + 420,
      receipts: [
        { receiptId: 'receipt 1', lineId: 'line 18', lineNo: 18, name: 'part 18', expectedOn: '2026-12-07', assumed: false },
      ],
    });
    expect(answer.chain.slice(1).map(({ operationId }) => operationId)).toEqual(['50', '70']);
  });

  it('waits for a day of the operation itself, where that is later than any order', () => {
    const waiting = operations.map((each) => (each.id === '50' ? { ...each, notBefore: '2027-01-12' } : each));
    const answer = answerTo({ operations: waiting, lines: [line(18, '50', [order('2026-12-07')])] });
    expect(answer).toMatchObject({ kind: 'firm', date: '2027-01-13' });
    expect(answer.chain[0]).toMatchObject({ kind: 'waits-for-day', operationId: '50', until: { date: '2027-01-12' } });
  });

  it('is an "if" date on an order that nobody confirmed', () => {
    const answer = answerTo({ lines: [line(37, '50', [order('2026-12-07', false)])] });
    expect(answer).toMatchObject({ kind: 'if', date: '2026-12-08' });
    expect(answer.conditions).toEqual([
      {
        kind: 'order-unconfirmed',
        lineId: 'line 37',
        lineNo: 37,
        name: 'part 37',
        critical: false,
        quantity: '1',
        operationId: '50',
        neededBy: '2026-12-07',
        receiptId: 'receipt 1',
        dueDate: '2026-12-07',
        expectedOn: '2026-12-07',
      },
    ]);
    expect(answer.chain[0]).toMatchObject({ kind: 'waits-for-receipt', receipts: [{ assumed: true }] });
    expect(answer.chain[1]).toMatchObject({ kind: 'work', assumes: ['line 37'] });
  });

  it('does not believe an overdue order, though it was confirmed: the next working day at the earliest, and an "if"', () => {
    const answer = answerTo({ operations: [], lines: [line(5, null, [order('2026-11-20')])] });
    expect(answer).toMatchObject({ kind: 'if', date: '2026-11-26' });
    expect(answer.conditions).toMatchObject([{ kind: 'order-overdue', dueDate: '2026-11-20', expectedOn: '2026-11-26' }]);
    expect(answerTo({ operations: [], lines: [line(5, null, [order(today)])] })).toMatchObject({ kind: 'firm', date: today });
  });

  it('says by when an order without a date, and a part not looked at, are needed', () => {
    const answer = answerTo({ lines: [line(41, '70', [notLookedAt]), line(6, '50', [order(null, false)], true)] });
    expect(answer).toMatchObject({ kind: 'if', date: '2026-11-30' });
    expect(answer.conditions).toMatchObject([
      { kind: 'order-undated', lineNo: 6, neededBy: '2026-11-27' },
      { kind: 'not-yet-looked-at', lineNo: 41, neededBy: '2026-11-30' },
    ]);
  });

  it('is an "if" date when something that is not critical is lacking', () => {
    expect(answerTo({ lines: [line(44, '70', [lacking])] })).toMatchObject({
      kind: 'if',
      conditions: [{ kind: 'lacking', lineNo: 44, critical: false }],
      toFind: [],
    });
  });

  it('is an "if" date when work was never estimated', () => {
    const answer = answerTo({ operations: [...operations, { id: '80', name: 'Paint', remainingMinutes: null }] });
    expect(answer).toMatchObject({ kind: 'if', date: '2026-11-30' });
    expect(answer.conditions).toEqual([{ kind: 'work-not-estimated', operationId: '80', name: 'Paint' }]);
  });

  it('is none while something critical is lacking: what to find, by when, and the date that would then hold', () => {
    const answer = answerTo({
      lines: [line(14, '50', [lacking], true), line(18, '70', [order('2026-12-17')]), line(37, '70', [notLookedAt])],
    });
    // set-up and all before it must be done by the opening of 17 December, or on the day itself as far as the test leaves time
    expect(answer).toMatchObject({ kind: 'none', date: null, ifDate: '2026-12-17', ifFoundBy: '2026-12-16' });
    expect(answer.toFind).toEqual([
      {
        lineId: 'line 14',
        lineNo: 14,
        name: 'part 14',
        critical: true,
        quantity: '1',
        operationId: '50',
        neededBy: '2026-12-16',
      },
    ]);
    expect(answer.conditions).toMatchObject([{ kind: 'not-yet-looked-at', lineNo: 37 }]);
  });

  it('names the earliest day among several parts to find', () => {
    const answer = answerTo({ lines: [line(12, '70', [lacking], true), line(14, '30', [lacking], true)] });
    expect(answer.toFind.map(({ lineNo, neededBy }) => [lineNo, neededBy])).toEqual([
      [12, '2026-11-30'],
      [14, '2026-11-25'],
    ]);
    expect(answer).toMatchObject({ kind: 'none', ifFoundBy: '2026-11-25' });
  });

  it('names the receipts of a day on which the operation itself may begin too', () => {
    const waiting = operations.map((each) => (each.id === '50' ? { ...each, notBefore: '2026-12-07' } : each));
    const lines = [
      line(18, '50', [order('2026-12-07', true, 'receipt 1')]),
      line(20, '50', [order('2026-12-07', true, 'receipt 2'), order('2026-12-02')]),
    ];
    const [wait] = answerTo({ operations: waiting, lines }).chain;
    expect(wait?.kind === 'waits-for-receipt' && wait.receipts.map(({ receiptId }) => receiptId)).toEqual([
      'receipt 1',
      'receipt 2',
    ]);
  });

  it('passes on why a network is refused', () => {
    const circle = earliestDate({
      ...now,
      lines: [],
      operations: [{ id: '1', name: 'Wash', remainingMinutes: 1, predecessors: ['1'] }],
    });
    expect(circle).toMatchObject({ ok: false, error: { code: 'cycle' } });
  });

  it('rests on somebody’s word where another part is in hand that nobody has accepted', () => {
    const answer = answerTo({ lines: [line(4, '30', [otherInHand], true)] });
    expect(answer).toMatchObject({ kind: 'if', conditions: [{ kind: 'substitute-unaccepted', lineNo: 4, quantity: '1' }] });
    expect(dateOf(answer)).toBe(dateOf(answerTo({ lines: [line(4, '30', [inHand], true)] })));
  });
});

const needs: fc.Arbitrary<Need> = fc.oneof(
  fc.constantFrom(inHand, otherInHand, notLookedAt, fromCore, lacking),
  fc.record({
    kind: fc.constant('on-order' as const),
    quantity: fc.constant('1'),
    receiptId: fc.uuid(),
    dueDate: fc.option(fc.integer({ min: -20, max: 90 }).map((days) => addDays(today, days))),
    confirmed: fc.boolean(),
    unaccepted: fc.boolean(),
  }),
);

/** Up to eight operations, each after some of those before it, and up to six lines. */
const questions: fc.Arbitrary<EarliestDateQuestion> = fc
  .array(
    fc.record({
      minutes: fc.oneof(fc.constant(0), fc.integer({ min: 0, max: 3000 })),
      after: fc.option(fc.array(fc.nat(6), { maxLength: 3 })),
    }),
    {
      maxLength: 8,
    },
  )
  .chain((steps) =>
    fc.record({
      today: fc.integer({ min: 0, max: 20 }).map((days) => addDays(today, days)),
      minuteOfDay: fc.integer({ min: 0, max: 1439 }),
      calendar: fc.constant(calendar),
      operations: fc.constant(
        steps.map(({ minutes, after }, index) => ({
          id: `o${index}`,
          name: `operation ${index}`,
          remainingMinutes: minutes,
          ...(after && { predecessors: [...new Set(after)].filter((before) => before < index).map((before) => `o${before}`) }),
        })),
      ),
      lines: fc.array(
        fc
          .record({
            lineNo: fc.integer({ min: 1, max: 60 }),
            at: fc.option(fc.nat(8)),
            critical: fc.boolean(),
            needs: fc.array(needs, { maxLength: 3 }),
          })
          .map(({ lineNo, at, critical, needs: portions }) => line(lineNo, at === null ? null : `o${at}`, portions, critical)),
        { maxLength: 6 },
      ),
    }),
  );

describe('the earliest date, of any job', () => {
  const runs = { numRuns: 300 };
  const answered = (question: EarliestDateQuestion) => answerTo(question);

  function eachOrder(
    question: EarliestDateQuestion,
    change: (need: Extract<Need, { kind: 'on-order' }>) => Need,
  ): EarliestDateQuestion {
    return {
      ...question,
      lines: question.lines.map((each) => ({
        ...each,
        needs: each.needs.map((need) => (need.kind === 'on-order' ? change(need) : need)),
      })),
    };
  }

  it('never comes forward when work is added', () => {
    fc.assert(
      fc.property(questions, fc.nat(7), fc.integer({ min: 1, max: 2000 }), (question, which, more) => {
        const busier = question.operations.map((each, index) =>
          index === which ? { ...each, remainingMinutes: (each.remainingMinutes ?? 0) + more } : each,
        );
        expect(dateOf(answered({ ...question, operations: busier })) >= dateOf(answered(question))).toBe(true);
      }),
      runs,
    );
  });

  it('never goes back when an order comes earlier, so long as that is not already overdue', () => {
    fc.assert(
      fc.property(questions, fc.integer({ min: 1, max: 60 }), (question, days) => {
        const sooner = eachOrder(question, (need) => {
          if (need.dueDate === null || addDays(need.dueDate, -days) < question.today) return need;
          return { ...need, dueDate: addDays(need.dueDate, -days) };
        });
        expect(dateOf(answered(sooner)) <= dateOf(answered(question))).toBe(true);
      }),
      runs,
    );
  });

  it('is never later when all that is uncertain turns out to be in hand, and is then firm', () => {
    fc.assert(
      fc.property(questions, (question) => {
        const certain = question.lines.map((each) => ({
          ...each,
          needs: each.needs.map((need) =>
            need.kind === 'on-order' && need.confirmed && need.dueDate !== null && need.dueDate >= question.today
              ? { ...need, unaccepted: false }
              : inHand,
          ),
        }));
        const firm = answered({ ...question, lines: certain });
        expect(firm.kind).toBe('firm');
        expect(dateOf(firm) <= dateOf(answered(question))).toBe(true);
      }),
      runs,
    );
  });

  it('is explained by its chain: the links follow one another and add up to the finish', () => {
    fc.assert(
      fc.property(questions, (question) => {
        const answer = answered(question);
        const begins = startOfWork(calendar, { date: question.today, minuteOfDay: question.minuteOfDay });
        const last = answer.chain.at(-1);
        const end = last === undefined ? begins : last.kind === 'work' ? last.finish : last.until;
        expect(end.date).toBe(dateOf(answer));
        expect(answer.chain.reduce((sum, { minutes }) => sum + minutes, 0)).toBe(workingMinutesBetween(calendar, begins, end));
        // only the first link can be a wait: what was waited for before it no longer matters
        expect(answer.chain.slice(1).every(({ kind }) => kind === 'work')).toBe(true);
      }),
      runs,
    );
  });

  it('holds when everything uncertain comes on its last day, and no longer when one comes the next working day', () => {
    fc.assert(
      fc.property(questions, fc.nat(), (question, which) => {
        const answer = answered(question);
        const floating = [...answer.conditions, ...answer.toFind].flatMap((each) =>
          'neededBy' in each && !('expectedOn' in each) ? [each] : [],
        );
        if (floating.length === 0) return;
        const late = floating[which % floating.length];
        const arrivals = (day: (each: (typeof floating)[number]) => string) =>
          floating.map((each, index) => line(100 + index, each.operationId, [order(day(each), true, `arrival ${index}`)]));
        const onTime = [...question.lines, ...arrivals((each) => each.neededBy)];
        const tooLate = [
          ...question.lines,
          ...arrivals((each) => (each === late ? nextWorkingDay(calendar, each.neededBy) : each.neededBy)),
        ];
        expect(dateOf(answered({ ...question, lines: onTime }))).toBe(dateOf(answer));
        expect(dateOf(answered({ ...question, lines: tooLate })) > dateOf(answer)).toBe(true);
      }),
      runs,
    );
  });

  it('gives a date for each state of the lines: none, if or firm', () => {
    fc.assert(
      fc.property(questions, (question) => {
        const states = question.lines.flatMap((each) => each.needs.map((need) => ({ critical: each.critical, need })));
        const answer = answered(question);
        const stopped = states.some(({ critical, need }) => critical && need.kind === 'lacking');
        const unsure = states.some(
          ({ need }) =>
            need.kind === 'lacking' ||
            need.kind === 'not-yet-looked-at' ||
            need.kind === 'from-a-core' ||
            need.unaccepted ||
            (need.kind === 'on-order' && (!need.confirmed || need.dueDate === null || need.dueDate < question.today)),
        );
        expect(answer.kind).toBe(stopped ? 'none' : unsure ? 'if' : 'firm');
      }),
      runs,
    );
  });
});
