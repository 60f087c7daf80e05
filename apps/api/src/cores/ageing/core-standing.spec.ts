import { isDue, monthsBetween, standingOf } from './core-standing.js';

const marks = { firstMonths: 6, secondMonths: 12 };

describe('a core in the yard', () => {
  it.each([
    ['2026-01-15', '2026-07-14', 'not yet', '2026-07-15'],
    ['2026-01-15', '2026-07-15', 'past the first mark', '2026-07-15'],
    ['2026-01-15', '2027-01-14', 'past the first mark', '2026-07-15'],
    ['2026-01-15', '2027-01-15', 'past the second mark', '2027-01-15'],
    // a month without that day ends on its last
    ['2025-08-31', '2026-02-28', 'past the first mark', '2026-02-28'],
  ])('since %s is on %s %s', (since, today, standing, dueOn) => {
    expect(standingOf(since, null, marks, today)).toEqual({ standing, dueOn });
  });

  it('that was looked through waits for the day that was named, whatever its marks', () => {
    expect(standingOf('2020-01-01', '2026-09-01', marks, '2026-08-31')).toEqual({
      standing: 'looked through',
      dueOn: '2026-09-01',
    });
    expect(standingOf('2020-01-01', '2026-09-01', marks, '2026-09-01').standing).toBe('due again');
  });

  it('needs somebody only past a mark', () => {
    expect(
      (['not yet', 'looked through', 'past the first mark', 'past the second mark', 'due again'] as const).map(isDue),
    ).toEqual([false, false, true, true, true]);
  });

  it.each([
    ['2026-01-31', '2026-02-28', 1],
    ['2026-01-31', '2026-02-27', 0],
    ['2025-11-20', '2026-11-19', 11],
    ['2025-11-20', '2026-11-20', 12],
    ['2026-11-20', '2026-11-01', 0],
  ])('from %s to %s has aged %i whole months', (since, today, months) => {
    expect(monthsBetween(since, today)).toBe(months);
  });
});
