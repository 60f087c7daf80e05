import { dateOf } from './date-of-entry.js';

const now = new Date('2026-03-02T10:00:00.000Z');
const dated = (said: string | null, facts: { begunAt?: string; knownSince?: string | null } = {}) =>
  dateOf({ said, now, begunAt: '2026-03-02T08:00:00.000Z', knownSince: null, ...facts });

describe('the moment of an entry', () => {
  it('is what the device says, and now where it says nothing', () => {
    expect(dated('2026-03-02T09:00:00.000Z')).toEqual({ ok: true, value: { at: '2026-03-02T09:00:00.000Z', words: '' } });
    expect(dated(null)).toEqual({ ok: true, value: { at: now.toISOString(), words: '' } });
  });

  it('is never after now, and says so where the clock is much out', () => {
    expect(dated('2026-03-02T10:01:00.000Z')).toEqual({ ok: true, value: { at: now.toISOString(), words: '' } });
    expect(dated('2026-03-03T10:00:00.000Z')).toMatchObject({
      value: { at: now.toISOString(), words: expect.stringContaining('fast') },
    });
  });

  it('is the beginning of the count where the clock is a little slow, and is refused where it is far out', () => {
    expect(dated('2026-03-02T07:50:00.000Z')).toMatchObject({
      value: { at: '2026-03-02T08:00:00.000Z', words: expect.stringContaining('slow') },
    });
    expect(dated('2026-03-01T08:00:00.000Z')).toMatchObject({
      ok: false,
      error: { code: 'dated-before', detail: expect.stringContaining('this count') },
    });
  });

  it('is refused far before the books knew the thing', () => {
    expect(dated('2026-03-02T08:30:00.000Z', { knownSince: '2026-03-02T09:30:00.000Z' })).toMatchObject({
      ok: false,
      error: { code: 'dated-before', detail: expect.stringContaining('the books knew this thing') },
    });
  });
});
