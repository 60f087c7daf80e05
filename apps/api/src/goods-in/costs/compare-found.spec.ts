import { decimalFrom } from '@corewright/quantities/decimal';
import { compareFound } from './compare-found.js';

const said = (words: string, quantity: number, referenceId: string | null = null) => ({ words, quantity, referenceId });
const found = (words: string, quantity: string, referenceId: string | null = null) => ({
  words,
  quantity: decimalFrom(quantity),
  referenceId,
});

describe('what was said beside what was found', () => {
  it('counts all lines and all rows of one type or part together, whatever they are called', () => {
    const compared = compareFound(
      [said('worm axles', 2, 'WD7'), said('and another', 1, 'WD7')],
      [found('Overhead-worm axle', '1', 'WD7'), found('axle off the trailer', '3', 'WD7')],
    );
    expect(compared).toEqual([{ words: 'worm axles', said: 3, found: '4', difference: '1 more than said', agrees: false }]);
  });

  it('finds none of a named one, and cannot say of words that no row says', () => {
    expect(compareFound([said('axle', 2, 'WD7'), said('a hoist', 1)], [])).toMatchObject([
      { found: '0', difference: 'none found' },
      { found: null, difference: expect.stringContaining('words alone') },
    ]);
  });

  it('takes words that say the same, and each row once', () => {
    expect(compareFound([said('Felt  rings', 4), said('felt RINGS ', 2)], [found('felt rings', '5.5')])).toEqual([
      { words: 'Felt  rings', said: 6, found: '5.5', difference: '0.5 short', agrees: false },
    ]);
  });

  it('names what nobody said a word of', () => {
    expect(compareFound([], [found('tin of shims', '1')])).toEqual([
      { words: 'tin of shims', said: null, found: '1', difference: 'nobody said a word of it', agrees: false },
    ]);
  });
});
