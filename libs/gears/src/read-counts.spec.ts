import { readTeethBetween, readTurns } from './read-counts.js';

it('reads turns in decimals and in fractions, and nothing from what is neither', () => {
  expect(['9', ' 9.75', '9,75', '9 3/4', '3/4', '48-7/8'].map(readTurns)).toEqual([9, 9.75, 9.75, 9.75, 0.75, 48.875]);
  expect(['', 'nine', '-3', '1/0', '9.75.1', '9 3'].map(readTurns)).toEqual([null, null, null, null, null, null]);
});

it('reads between how many teeth to look', () => {
  expect(readTeethBetween('6 to 14')).toEqual({ least: 6, most: 14 });
  expect(readTeethBetween('30-60')).toEqual({ least: 30, most: 60 });
  expect(readTeethBetween(' 9 ')).toEqual({ least: 9, most: 9 });
  for (const wrong of ['', '14 to 6', '0 to 5', 'a few', '6 to 2000']) expect(readTeethBetween(wrong)).toBeNull();
});
