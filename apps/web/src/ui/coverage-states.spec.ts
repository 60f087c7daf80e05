import { coverageInWords, sortShares } from './coverage-states.js';

describe('the shares of a coverage bar', () => {
  it('stand from most ink to none, whatever their order was, and are told in that order', () => {
    const shares = [
      { state: 'lacking', quantity: '3' },
      { state: 'free', quantity: '1' },
      { state: 'fitted', quantity: '2.5' },
    ] as const;
    expect(coverageInWords(shares)).toBe('2.5 fitted, 1 free in stores, 3 lacking');
  });

  it('leave out what is nil', () => {
    expect(sortShares([{ state: 'picked', quantity: '0' }])).toEqual([]);
  });
});
