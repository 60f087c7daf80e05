import type { CoveredLine, CoverShare } from '@corewright/contracts/coverage';
import { takenBy, toReserve } from './to-reserve.js';

const share = (state: CoverShare['state'], more: Partial<CoverShare> = {}): CoverShare => ({
  state,
  quantity: '2',
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
const lot = { id: 'lot', code: 'L00000101', name: 'Hub nut' };
const line = (shares: CoverShare[]) => ({ id: 'line', shares }) as unknown as CoveredLine;

describe('what a line can reserve', () => {
  it('is asked for by the thing, or by the order', () => {
    const shares = [
      share('picked', { on: lot }),
      share('free in stores', { on: lot, canReserve: true }),
      share('on order', { receiptId: 'order', canReserve: true }),
    ];
    expect(toReserve(line(shares))).toEqual([
      { lineId: 'line', quantity: '2', thingId: 'lot' },
      { lineId: 'line', quantity: '2', receiptId: 'order' },
    ]);
  });
});

describe('what may be taken from another job', () => {
  it('is what it has reserved, not what lies in its tray nor what merely goes to it first', () => {
    const of = (how: 'reserved' | 'in its tray' | 'goes to it first') =>
      takenBy({ job: lot, thing: lot, receiptId: null, quantity: '1', how, words: '' });
    expect(of('reserved')).toEqual({ thingId: 'lot' });
    expect([of('in its tray'), of('goes to it first')]).toEqual([null, null]);
    expect(takenBy({ job: lot, thing: null, receiptId: 'order', quantity: '1', how: 'reserved', words: '' })).toEqual({
      receiptId: 'order',
    });
  });
});
