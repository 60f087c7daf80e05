import { type Before, type Hand, wentOnInOwnName, whoLooks, whoseLook } from './second-look.js';

const hands: readonly Hand[] = ['Tom', 'Ida', 'Edie'].map((name) => ({ id: name.toLowerCase(), name }));
const at = (minute: number): string => `2026-11-27T09:${String(minute).padStart(2, '0')}:00.000Z`;
const look = (by: string, minute: number, inOwnName = false) => ({
  personId: by.toLowerCase(),
  by,
  recordedAt: at(minute),
  inOwnName,
});
const entry = (by: string, minute: number, inOwnName = false) => ({ ...look(by, minute, inOwnName), quantity: '4', asked: '' });
const before = (facts: Partial<Before>): Before => ({ entries: [], closings: [], againAt: at(30), ...facts });

describe('whose a second look is', () => {
  it('is anybody’s where none was asked for', () => {
    const first = before({ entries: [entry('Tom', 1)], againAt: null });
    expect(whoLooks(first, hands, 'tom').may).toBe('look');
  });

  it('is of whoever has not looked, while one works here', () => {
    const asked = before({ entries: [entry('Tom', 1)], closings: [look('Ida', 2)] });
    expect(whoLooks(asked, hands, 'tom')).toEqual({ may: 'leave it to another', looked: ['Tom', 'Ida'], fresh: ['Edie'] });
    expect(whoLooks(asked, hands, 'ida').may).toBe('leave it to another');
    expect(whoLooks(asked, hands, 'edie').may).toBe('look');
    expect(whoseLook(asked, hands)).toBe('Edie looks; Tom and Ida have');
  });

  it('is anybody’s in their own name where everybody has looked, also where nobody else works here', () => {
    const all = before({ entries: [entry('Tom', 1), entry('Ida', 2)], closings: [look('Edie', 3)] });
    for (const { id } of hands) expect(whoLooks(all, hands, id).may).toBe('look in their own name');
    const alone = before({ entries: [entry('Tom', 1)] });
    expect(whoLooks(alone, hands.slice(0, 1), 'tom').may).toBe('look in their own name');
  });

  it('counts whoever has left no longer, and whoever has come as one who has not looked', () => {
    const all = before({ entries: [entry('Tom', 1), entry('Ida', 2)] });
    expect(whoLooks(all, hands.slice(0, 2), 'tom').may).toBe('look in their own name');
    expect(whoLooks(all, hands, 'tom').may).toBe('leave it to another');
  });

  it('counts a look since it was asked for, and stands open once another has counted', () => {
    const closedSince = before({ entries: [entry('Tom', 1)], closings: [look('Ida', 31)] });
    expect(whoLooks(closedSince, hands.slice(0, 2), 'tom').may).toBe('look in their own name');
    const countedSince = before({ entries: [entry('Tom', 1), entry('Ida', 31)] });
    expect(whoLooks(countedSince, hands, 'tom').may).toBe('look');
  });

  it('goes on in their own name for whoever began so', () => {
    const own = before({ entries: [entry('Tom', 1), entry('Ida', 2), entry('Tom', 31, true)] });
    expect(whoLooks(own, hands, 'tom').may).toBe('look');
    expect([wentOnInOwnName(own, 'tom'), wentOnInOwnName(own, 'ida')]).toEqual([true, false]);
  });
});
