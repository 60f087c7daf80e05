import type { LabelCode } from '@corewright/codes/label-code';
import { decideMerge, type LotFact, type ToMerge } from './decide-merge.js';

const lot = (code: string, facts: Partial<ToMerge> = {}): ToMerge => ({
  code: code as LabelCode,
  isLot: true,
  isNamed: true,
  isMissing: false,
  isOfKeptSet: false,
  isKeptForOwner: false,
  isOpen: false,
  facts: [],
  elsewhere: [],
  isHere: true,
  ...facts,
});
const [one, other] = ['L00000140', 'L00000237'];

/** Small numbers that look thrown, the same at each run from the same seed. */
function thrown(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((state / 2 ** 32) * below);
  };
}

describe('two bags that turn out to be one', () => {
  it('become one where nothing differs', () => {
    expect(decideMerge(lot(one), lot(other))).toEqual({ ok: true, value: null });
  });

  it.each([
    ['one is no lot', lot(one, { isLot: false }), lot(other), 'not-a-lot'],
    ['one is missing', lot(one), lot(other, { isMissing: true }), 'missing'],
    ['one is of a set', lot(one, { isOfKeptSet: true }), lot(other), 'of-a-kept-set'],
    ['one is kept for its owner', lot(one), lot(other, { isKeptForOwner: true }), 'kept-for-owner'],
    ['one is an open container', lot(one), lot(other, { isOpen: true }), 'open-container'],
    ['nobody has named one', lot(one), lot(other, { isNamed: false }), 'not-named'],
    ['some of the first is fitted', lot(one, { elsewhere: ['in U 000002 11'] }), lot(other), 'not-all-here'],
    ['nothing of the first is here', lot(one, { isHere: false }), lot(other), 'none-left'],
  ])('is refused where %s', (_, goes, stays, code) => {
    expect(decideMerge(goes, stays)).toMatchObject({ ok: false, error: { status: 409, code } });
  });

  it('says which way round it goes where only the other lies wholly here', () => {
    const decided = decideMerge(lot(one, { elsewhere: ['with Strake Grinding'] }), lot(other));
    expect(decided.ok ? '' : decided.error.detail).toMatch(/with Strake Grinding.*Make L 000002 37 part of L 000001 40 instead/);
  });

  it('names exactly the facts that differ, with both values, whatever they are', () => {
    const seed = Number(process.env.CW_SEED ?? 20_261);
    const next = thrown(seed);
    const names = ['part', 'owner', 'source', 'make', 'maker', 'condition', 'packet date', 'thickness', 'held back'];
    for (let round = 0; round < 300; round += 1) {
      const facts = (): LotFact[] =>
        names
          .map((what) => ({ what, key: `${what} ${next(3)}`, shown: '' }))
          .map((fact) => ({ ...fact, shown: `(${fact.key})` }));
      const [a, b] = [facts(), facts()];
      const expected = names.filter(
        (what) => a.find((fact) => fact.what === what)!.key !== b.find((fact) => fact.what === what)!.key,
      );
      const decided = decideMerge(lot(one, { facts: a }), lot(other, { facts: b }));
      const named = decided.ok ? [] : ((decided.error.values?.differing ?? []) as { what: string }[]).map(({ what }) => what);
      expect({ seed, round, named }).toEqual({ seed, round, named: expected });
      if (decided.ok) continue;
      for (const what of names) {
        const value = (side: LotFact[]) => side.find((fact) => fact.what === what)!.shown;
        expect(decided.error.detail.includes(`${what}, ${value(a)} against ${value(b)}`)).toBe(expected.includes(what));
      }
    }
  });
});
