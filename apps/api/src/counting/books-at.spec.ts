import { type Decimal, zero } from '@corewright/quantities/decimal';
import fc from 'fast-check';
import { booksAt, type Moved, putRight } from './books-at.js';

const pieces = (count: number): Decimal => (BigInt(count) * 10_000n) as Decimal;
const moved = (facts: Partial<Moved> & { sequence: number }): Moved => ({
  occurredAt: 0,
  recordedAt: facts.occurredAt ?? 0,
  change: pieces(1),
  reverses: null,
  isOwn: false,
  ...facts,
});

/** A bin in the world: hands put pieces in and take them out, one after another, and somebody looks in now and then. */
interface Hand {
  /** pieces put in, or taken out as far as there are any */
  put: number;
  /** so long it waits until the server has it, in milliseconds */
  waits: number;
  looks: boolean;
}
const hands = fc.array(
  fc.record({ put: fc.integer({ min: -4, max: 4 }), waits: fc.integer({ min: 0, max: 40 }), looks: fc.boolean() }),
  { maxLength: 30 },
);

/** What happened in the world and what was seen there, hand by hand, without any books. */
function played(all: readonly Hand[]): { moved: Moved[]; seen: { at: number; count: number }[] } {
  const bin: string[] = [];
  const happened: Omit<Moved, 'sequence'>[] = [];
  const seen: { at: number; count: number }[] = [];
  all.forEach(({ put, waits, looks }, index) => {
    const at = index * 10;
    const before = bin.length;
    if (put >= 0) for (let piece = 0; piece < put; piece += 1) bin.push('piece');
    else bin.splice(0, -put);
    if (bin.length !== before)
      happened.push({
        occurredAt: at,
        recordedAt: at + waits,
        change: pieces(bin.length - before),
        reverses: null,
        isOwn: false,
      });
    if (looks) seen.push({ at: at + 5, count: bin.length });
  });
  const arrived = happened.toSorted((one, other) => one.recordedAt - other.recordedAt);
  return { moved: arrived.map((each, index) => ({ ...each, sequence: index + 1 })), seen };
}

describe('what the books held at the moment of an entry', () => {
  it('is what lay there, however much is picked and brought during the count, and however late it arrives', () => {
    fc.assert(
      fc.property(hands, (all) => {
        const world = played(all);
        for (const { at, count } of world.seen)
          expect(booksAt(world.moved, at)).toEqual({ held: pieces(count), otherwise: null });
      }),
      { seed: 61 },
    );
  });

  it('does not depend on the order in which the movements arrived', () => {
    fc.assert(
      fc.property(hands, fc.infiniteStream(fc.nat()), fc.integer({ min: 0, max: 300 }), (all, chance, at) => {
        const world = played(all).moved;
        const shuffled = world
          .map((each) => ({ each, place: chance.next().value as number }))
          .toSorted((one, other) => one.place - other.place)
          .map(({ each }) => each);
        expect(booksAt(shuffled, at)).toEqual(booksAt(world, at));
      }),
      { seed: 62 },
    );
  });

  it('leaves out what this count has put right, and tells it apart', () => {
    const all = [
      moved({ sequence: 1, change: pieces(5) }),
      moved({ sequence: 2, occurredAt: 50, change: pieces(-2), isOwn: true }),
    ];
    expect(booksAt(all, 100)).toEqual({ held: pieces(5), otherwise: null });
    expect(putRight(all)).toBe(pieces(-2));
  });

  it('believes no device whose clock is fast: nothing occurred after it was recorded', () => {
    const fast = moved({ sequence: 1, occurredAt: 9_000, recordedAt: 40, change: pieces(3) });
    expect(booksAt([fast], 50).held).toBe(pieces(3));
  });

  it('has what occurred at the very moment of the entry before it', () => {
    expect(booksAt([moved({ sequence: 1, occurredAt: 70 })], 70).held).toBe(pieces(1));
    expect(booksAt([moved({ sequence: 1, occurredAt: 71 })], 70).held).toBe(zero);
  });

  it('can be either of two figures where a scan from before the entry was taken back after it', () => {
    const pick = moved({ sequence: 2, occurredAt: 10, change: pieces(-1) });
    const back = moved({ sequence: 3, occurredAt: 30, change: pieces(1), reverses: 2 });
    const all = [moved({ sequence: 1, change: pieces(4) }), pick, back];
    expect(booksAt(all, 20)).toEqual({ held: pieces(3), otherwise: pieces(4) });
    expect(booksAt(all, 5)).toEqual({ held: pieces(4), otherwise: null });
    expect(booksAt(all, 40)).toEqual({ held: pieces(4), otherwise: null });
  });
});
