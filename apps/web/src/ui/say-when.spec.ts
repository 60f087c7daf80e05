import { dayOf, sayDay, sayDayAloud, sayInstant, sayMinutes } from './say-when.js';

describe('days and hours as people say them', () => {
  it('says a day with its month in three letters', () => {
    expect(sayDay('2026-12-02')).toBe('2 Dec 2026');
    expect(sayDay('2026-09-04')).toBe('4 Sep 2026');
    expect(sayDayAloud('2027-03-18')).toBe('Thursday 18 March 2027');
  });

  it('says the clock for today, the day for this year, the year for older things', () => {
    const now = new Date(2026, 10, 25, 12, 0);
    expect(sayInstant(new Date(2026, 10, 25, 9, 5).toISOString(), now)).toBe('9.05');
    expect(sayInstant(new Date(2026, 9, 14, 9, 5).toISOString(), now)).toBe('14 Oct');
    expect(sayInstant(new Date(2025, 9, 14, 9, 5).toISOString(), now)).toBe('14 Oct 2025');
  });

  it('takes the day of an instant from this device’s clock', () => {
    expect(dayOf(new Date(2026, 0, 2, 0, 30))).toBe('2026-01-02');
  });

  it('says minutes up to an hour, then hours to the half', () => {
    expect(sayMinutes(45)).toBe('45 min');
    expect(sayMinutes(90)).toBe('1½ h');
    expect(sayMinutes(960)).toBe('16 h');
  });
});
