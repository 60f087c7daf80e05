import { decideThrottle } from './decide-throttle.js';

const ages = (count: number, oldest: number): number[] =>
  Array.from({ length: count }, (_, index) => (oldest * (index + 1)) / count);

describe('how long a name or an address waits after refusals', () => {
  it('lets four wrong tries of a name and nineteen of an address pass', () => {
    expect(decideThrottle({ ofName: ages(4, 10), ofAddress: ages(19, 10) })).toBeNull();
  });

  it('makes a name wait after five, until the oldest of the five is five minutes old', () => {
    expect(decideThrottle({ ofName: [1, 2, 3, 4, 100], ofAddress: [] })).toBe(200);
  });

  it('makes an address wait after twenty, whatever names it tried', () => {
    expect(decideThrottle({ ofName: [], ofAddress: ages(20, 240) })).toBe(60);
  });

  it('gives the longer of two waits, in whole seconds', () => {
    expect(decideThrottle({ ofName: [1, 1, 1, 1, 10.5], ofAddress: ages(20, 200) })).toBe(290);
  });

  it('looks at the newest five only: an older sixth changes nothing', () => {
    expect(decideThrottle({ ofName: [1, 2, 3, 4, 5, 299], ofAddress: [] })).toBe(295);
  });
});
