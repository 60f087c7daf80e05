import fc from 'fast-check';
import { findWindow } from './virtual-window.js';

describe('the rows of a long list that are drawn', () => {
  it('draws what is in sight and the spare rows beyond, of rows of one height', () => {
    const heights = Array.from({ length: 10_000 }, () => 50);
    expect(findWindow({ heights, top: 5000, bottom: 5500, spare: 4 })).toEqual({
      first: 96,
      end: 114,
      before: 4800,
      after: 494_300,
    });
  });

  it('draws nothing of an empty list', () => {
    expect(findWindow({ heights: [], top: 0, bottom: 800, spare: 4 })).toEqual({ first: 0, end: 0, before: 0, after: 0 });
  });

  it('never leaves a gap in sight, and keeps the height of the whole list, whatever the heights', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 300 }), { maxLength: 200 }),
        fc.integer({ min: 0, max: 40_000 }),
        fc.integer({ min: 1, max: 2000 }),
        (heights, top, view) => {
          const drawn = findWindow({ heights, top, bottom: top + view, spare: 3 });
          const total = heights.reduce((all, height) => all + height, 0);
          const inside = heights.slice(drawn.first, drawn.end).reduce((all, height) => all + height, 0);
          expect(drawn.before + inside + drawn.after).toBe(total);
          if (top < total) {
            expect(drawn.before).toBeLessThanOrEqual(top);
            expect(drawn.before + inside).toBeGreaterThanOrEqual(Math.min(total, top + view));
          }
        },
      ),
    );
  });
});
