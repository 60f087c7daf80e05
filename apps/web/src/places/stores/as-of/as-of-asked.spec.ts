import { instantAsked, readAsOfAsked } from './as-of-asked.js';

const now = new Date('2026-11-27T14:00:00Z');
const local = (text: string): string => new Date(text).toISOString();

describe('the instant that is asked for', () => {
  it('is the end of the minute, or of the day where no time is said', () => {
    expect(instantAsked({ on: '2026-03-02', time: '10:15' }, now)).toBe(local('2026-03-02T10:15:59.999'));
    expect(instantAsked({ on: '2026-03-02', time: '' }, now)).toBe(local('2026-03-02T23:59:59.999'));
  });

  it('is now where that has not come yet, so that today may be asked for', () => {
    expect(instantAsked({ on: '2026-11-28', time: '' }, now)).toBe(now.toISOString());
  });

  it('is none where no day is said, or none that there is', () => {
    expect(instantAsked({ on: '', time: '10:15' }, now)).toBeNull();
    expect(instantAsked({ on: '2026-13-40', time: '' }, now)).toBeNull();
    expect(instantAsked({ on: '2026-03-02', time: 'noon' }, now)).toBeNull();
  });
});

describe('an address', () => {
  it('says a day, a time and a place, or leaves them out', () => {
    expect(readAsOfAsked({ on: '2026-03-02', other: 'x' })).toEqual({ on: '2026-03-02' });
  });
});
