import { scoreInterval } from '../../libs/yields/src/score-interval.js';

/**
 * R. G. Newcombe, Statistics in Medicine 17, 1998, pages 857 to 872, table I, method 3 (Wilson's score without correction for continuity), with 95 %
 * confidence. The figures are given from memory.
 */
const published: readonly (readonly [right: number, counted: number, least: number, most: number])[] = [
  [81, 263, 0.2553, 0.3662],
  [15, 148, 0.0624, 0.1605],
  [0, 20, 0, 0.1611],
  [1, 29, 0.0061, 0.1718],
];

it.each(published)('has the published bounds for %d of %d', (right, counted, least, most) => {
  const interval = scoreInterval({ right, counted }, 1.959963984540054);
  expect(interval.least).toBeCloseTo(least, 4);
  expect(interval.most).toBeCloseTo(most, 4);
});
