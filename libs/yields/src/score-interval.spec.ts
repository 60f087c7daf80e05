import fc from 'fast-check';
import { scoreInterval } from './score-interval.js';

const shares = fc
  .record({ counted: fc.integer({ min: 1, max: 500 }), part: fc.double({ min: 0, max: 1, noNaN: true }) })
  .map(({ counted, part }) => ({ counted, right: Math.round(counted * part) }));

describe('the score interval', () => {
  it('holds the share, lies within 0 and 1, and narrows as more are counted', () => {
    fc.assert(
      fc.property(shares, (share) => {
        const { least, most } = scoreInterval(share);
        const seen = share.right / share.counted;
        expect(least).toBeGreaterThanOrEqual(0);
        expect(most).toBeLessThanOrEqual(1);
        expect(least <= seen && seen <= most).toBe(true);
        const more = scoreInterval({ right: share.right * 4, counted: share.counted * 4 });
        expect(more.most - more.least).toBeLessThan(most - least);
      }),
      { seed: 71 },
    );
  });

  it('ends where the share seen is just so many standard deviations away', () => {
    fc.assert(
      fc.property(shares, (share) => {
        for (const bound of Object.values(scoreInterval(share, 1.96))) {
          if (bound === 0 || bound === 1) continue;
          const away = Math.abs(share.right / share.counted - bound) / Math.sqrt((bound * (1 - bound)) / share.counted);
          expect(away).toBeCloseTo(1.96, 6);
        }
      }),
      { seed: 72 },
    );
  });

  it.each([
    [0, 0],
    [3, 2],
    [-1, 2],
    [1.5, 3],
  ])('refuses %d of %d', (right, counted) => {
    expect(() => scoreInterval({ right, counted })).toThrow(RangeError);
  });
});
