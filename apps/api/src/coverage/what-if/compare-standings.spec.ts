import type { Advice, CoverShare, CoverState } from '@corewright/contracts/coverage';
import { turnOfAll, turnOfDate, turnOfLine } from './compare-standings.js';

const share = (state: CoverState, quantity: string, more: Partial<CoverShare> = {}): CoverShare => ({
  state,
  quantity,
  on: null,
  receiptId: null,
  dueOn: null,
  confirmed: null,
  words: '',
  instead: null,
  reservation: null,
  canReserve: false,
  ...more,
});

const instead = (isAccepted: boolean): Partial<CoverShare> => ({
  instead: {
    part: { id: 'p', name: 'cone', number: 'C 1', maker: '' },
    as: 'will serve for',
    words: '',
    conditions: '',
    isAccepted,
  },
});

describe('which way a line turns', () => {
  it.each([
    ['found in stores', [share('lacking', '1')], [share('free in stores', '1')], 'better'],
    ['lost to another job', [share('free in stores', '2')], [share('free in stores', '1'), share('lacking', '1')], 'worse'],
    ['lacking less, though more rests on a core', [share('lacking', '2')], [share('from a core', '2')], 'better'],
    [
      'from an order that comes later',
      [share('on order', '1', { dueOn: '2026-12-04' })],
      [share('on order', '1', { dueOn: '2026-12-18' })],
      'worse',
    ],
    ['from an order that has no day now', [share('on order', '1', { dueOn: '2026-12-04' })], [share('on order', '1')], 'worse'],
    [
      'accepted by somebody',
      [share('free in stores', '1', instead(false))],
      [share('free in stores', '1', instead(true))],
      'better',
    ],
    ['out of another lot', [share('free in stores', '1')], [share('free in stores', '1', { words: 'Rack 2' })], 'otherwise'],
  ] as const)('%s', (_what, before, after, turn) => {
    expect(turnOfLine(before, after)).toBe(turn);
  });
});

const advice = (kind: Advice['kind'], date: string | null): Advice => ({
  kind,
  date,
  sentence: '',
  conditions: [],
  chain: [],
  toFind: [],
  ifFound: null,
  reckonedOn: '2026-11-27',
});

describe('which way a date turns', () => {
  it.each([
    ['stays', advice('if', '2026-12-04'), advice('if', '2026-12-04'), null],
    ['sooner', advice('firm', '2026-12-04'), advice('firm', '2026-12-02'), 'better'],
    ['there is one now', advice('none', null), advice('if', '2027-01-02'), 'better'],
    ['there is none any more', advice('firm', '2027-01-02'), advice('none', null), 'worse'],
    ['firm, but later', advice('if', '2026-12-04'), advice('firm', '2026-12-18'), 'both'],
    ['firm, and sooner', advice('if', '2026-12-18'), advice('firm', '2026-12-04'), 'better'],
  ] as const)('%s', (_what, before, after, turn) => {
    expect(turnOfDate(before, after)).toBe(turn);
  });

  it('and a job turns as all of it does', () => {
    expect(turnOfAll(['better', 'otherwise', null])).toBe('better');
    expect(turnOfAll(['better', 'worse'])).toBe('both');
    expect(turnOfAll(['otherwise', null])).toBe('otherwise');
    expect(turnOfAll([null, 'worse'])).toBe('worse');
  });
});
