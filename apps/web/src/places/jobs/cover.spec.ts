import type { CoveredLine } from '@corewright/contracts/coverage';
import { barOf, barOfJob, isFinished } from './cover.js';

const line = (state: CoveredLine['state'], waived: string | null = null): CoveredLine => ({
  id: 'line',
  lineNo: 1,
  part: { id: 'part', name: 'Hub nut', number: '48-2281', unitOfMeasure: 'each' },
  needed: '2',
  operationId: 'operation',
  critical: false,
  reusable: true,
  further: false,
  waived,
  consumable: false,
  version: 1,
  state,
  shares: [
    {
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
    },
  ],
  stops: false,
  looked: [],
  elsewhere: [],
  substitutes: [],
  fittedFrom: [],
});

describe('the coverage of a job on the screen', () => {
  it('counts each line by its weakest cover and leaves out what was waived', () => {
    expect(barOfJob([line('on order'), line('on order'), line('re-used'), line('lacking', 'customer has his own')])).toEqual([
      { state: 'coming', quantity: '2' },
      { state: 'reused', quantity: '1' },
    ]);
  });

  it('draws a line’s shares with the marks of the board', () => {
    expect(barOf(line('not yet looked at'))).toEqual([{ state: 'unseen', quantity: '2' }]);
  });

  it('calls a line finished when it is in the unit, stays in it, or is waived', () => {
    expect(
      [line('fitted'), line('re-used'), line('lacking', 'not fitted on this variant'), line('picked')].map(isFinished),
    ).toEqual([true, true, true, false]);
  });
});
