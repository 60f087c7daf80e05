import { type Decimal, zero } from '@corewright/quantities/decimal';
import fc from 'fast-check';
import type { Moved } from './books-at.js';
import { type Closing, type Entry, type LineFacts, lineOf } from './line-of-count.js';

const pieces = (count: number): Decimal => (BigInt(count) * 10_000n) as Decimal;
let sequence = 0;
const entry = (quantity: number | null, facts: Partial<Entry> = {}): Entry => {
  sequence += 1;
  return {
    id: `entry ${sequence}`,
    sequence,
    personId: 'tom',
    by: 'Tom',
    at: 100,
    recordedAt: facts.at ?? 100,
    quantity: quantity === null ? null : pieces(quantity),
    isUnsure: false,
    inOwnName: false,
    ...facts,
  };
};
const closing = (at: number, facts: Partial<Closing> = {}): Closing => ({
  personId: 'tom',
  by: 'Tom',
  at,
  recordedAt: at,
  inOwnName: false,
  ...facts,
});
const brought = (count: number, facts: Partial<Moved> = {}): Moved => ({
  sequence: 1,
  occurredAt: 0,
  recordedAt: facts.occurredAt ?? 0,
  change: pieces(count),
  reverses: null,
  isOwn: false,
  ...facts,
});
const line = (facts: Partial<LineFacts>) =>
  lineOf({ isSingle: false, entries: [], closings: [], moved: [brought(4)], againAt: null, ...facts });

describe('a line of a count', () => {
  it.each([
    [4, 'agrees', 0],
    [3, 'short', -1],
    [0, 'missing', -4],
    [6, 'found', 2],
  ] as const)('of which %d were counted where the books held 4: %s', (count, state, difference) => {
    expect(line({ entries: [entry(count)] })).toMatchObject({
      state,
      taken: [{ difference: pieces(difference), books: pieces(4) }],
    });
  });

  it('is missing where everything was scanned and it was not, and is no line before that', () => {
    expect(line({})).toBeNull();
    expect(line({ closings: [closing(200)] })).toMatchObject({
      state: 'missing',
      taken: [{ quantity: zero, difference: pieces(-4) }],
    });
    expect(line({ closings: [closing(200)], moved: [] })).toBeNull();
  });

  it('was picked before the place was closed, and so is not missing; picked after it, it is', () => {
    const pick = brought(-4, { sequence: 2, occurredAt: 150 });
    expect(line({ closings: [closing(200)], moved: [brought(4), pick] })).toBeNull();
    expect(line({ closings: [closing(140)], moved: [brought(4), pick] })).toMatchObject({ state: 'missing' });
  });

  it('takes the last entry of a person, and never adds two up', () => {
    expect(line({ entries: [entry(1), entry(3, { at: 101 })] })).toMatchObject({
      state: 'short',
      taken: [{ quantity: pieces(3) }],
    });
    // an entry that waited for the network comes later and was made before
    expect(line({ entries: [entry(4, { at: 101 }), entry(1, { at: 90, recordedAt: 500 })] })).toMatchObject({ state: 'agrees' });
  });

  it('of two people shows both and what they come to together, and takes none of them by itself', () => {
    const two = line({ entries: [entry(3), entry(2, { personId: 'ida', by: 'Ida', at: 120 })] });
    expect(two?.state).toBe('counted twice');
    expect(two?.taken.map(({ words }) => words)).toEqual(['3 by Tom', '2 by Ida', '5 together, had they shared it out']);
  });

  it('of two people agrees only where both do by themselves', () => {
    const both = [entry(4), entry(4, { personId: 'ida', by: 'Ida' })];
    expect(line({ entries: both })?.state).toBe('agrees');
    expect(line({ entries: [entry(2), entry(2, { personId: 'ida', by: 'Ida' })] })?.state).toBe('counted twice');
  });

  it('of a single thing that two people scanned is one', () => {
    const both = [entry(1), entry(1, { personId: 'ida', by: 'Ida' })];
    expect(line({ isSingle: true, entries: both, moved: [brought(1)] })?.state).toBe('agrees');
  });

  it('waits for its number, and for the number once more', () => {
    expect(line({ entries: [entry(null)] })?.state).toBe('no number keyed');
    expect(line({ entries: [entry(44, { isUnsure: true })] })?.state).toBe('to be keyed once more');
    expect(line({ entries: [entry(44, { isUnsure: true }), entry(4, { at: 130 })] })?.state).toBe('agrees');
  });

  it('begins anew when a second look is asked for, until somebody has looked', () => {
    expect(line({ entries: [entry(3)], againAt: 300 })?.state).toBe('to be counted again');
    expect(line({ entries: [entry(3), entry(4, { at: 310, personId: 'ida' })], againAt: 300 })?.state).toBe('agrees');
    expect(line({ closings: [closing(200)], againAt: 300 })?.state).toBe('to be counted again');
    expect(line({ closings: [closing(200), closing(310)], againAt: 300 })?.state).toBe('missing');
  });

  it('agrees with either figure where a scan was taken back after it, and else wants to be counted again', () => {
    const moved = [
      brought(4),
      brought(-1, { sequence: 2, occurredAt: 50 }),
      brought(1, { sequence: 3, occurredAt: 200, reverses: 2 }),
    ];
    expect(line({ entries: [entry(3)], moved })?.state).toBe('agrees');
    expect(line({ entries: [entry(4)], moved })?.state).toBe('agrees');
    expect(line({ entries: [entry(2)], moved })?.state).toBe('taken back meanwhile');
  });

  it('has nothing left to decide once its difference is put right, whatever is picked meanwhile', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 9 }),
        fc.integer({ min: 0, max: 9 }),
        fc.integer({ min: 0, max: 9 }),
        (held, count, later) => {
          const moved = [brought(held), brought(-later, { sequence: 2, occurredAt: 150 })];
          const before = line({ entries: [entry(count)], moved });
          const own = brought(count - held, { sequence: 3, occurredAt: 200, isOwn: true });
          expect(before?.taken[0]?.difference).toBe(pieces(count - held));
          expect(line({ entries: [entry(count)], moved: [...moved, own] })?.state).toBe('agrees');
        },
      ),
      { seed: 63 },
    );
  });
});
