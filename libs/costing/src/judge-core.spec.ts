import { type Decimal, decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import type { Money } from '@corewright/quantities/money';
import fc from 'fast-check';
import { type CoreAnswer, type CoreLookedAt, type CoreTerms, coreAnswers, judgeCore, restOfShares } from './judge-core.js';

const percents = (...texts: string[]): Decimal[] => texts.map(decimalFrom);
const money = (minor: bigint): Money => minor as Money;
const six = (...answers: CoreAnswer[]): CoreAnswer[] => Array.from({ length: 6 }, (_, index) => answers[index] ?? 'yes');

/** A worm axle: 35 for the wheel and worm, 20 for the carrier, 12.5 for each half shaft; 20 for the casing and the rest. */
const worm: CoreTerms = {
  shares: percents('35', '20', '12.5', '12.5'),
  fullCredit: money(20_000n),
  grades: ['A', 'B', 'C', 'D'],
};
const all: CoreLookedAt = { points: six(), components: ['yes', 'yes', 'yes', 'yes'] };

const said = (terms: CoreTerms, looked: CoreLookedAt) => {
  const { least, most, notLookedAt } = judgeCore(terms, looked);
  return {
    least: `${least.grade} ${formatDecimal(least.kept)} ${least.credit}`,
    most: `${most.grade} ${formatDecimal(most.kept)} ${most.credit}`,
    notLookedAt,
  };
};

describe('a core by its acceptance sheet', () => {
  it('with nothing amiss has the best grade and the full credit', () => {
    expect(said(worm, all)).toEqual({ least: 'A 100 20000', most: 'A 100 20000', notLookedAt: 0 });
  });

  it.each<[string, CoreLookedAt, string]>([
    ['one half shaft that cannot be used again', { ...all, components: ['yes', 'yes', 'no', 'yes'] }, 'B 87.5 17500'],
    ['a crack: the casing and the rest', { ...all, points: six('yes', 'yes', 'no') }, 'B 80 16000'],
    ['four points amiss: the casing and the rest once', { ...all, points: six('no', 'no', 'no', 'no') }, 'B 80 16000'],
    ['the worm set', { ...all, components: ['no', 'yes', 'yes', 'yes'] }, 'C 65 13000'],
    ['everything', { points: six('no'), components: ['no', 'no', 'no', 'no'] }, 'D 0 0'],
  ])('loses what hangs on %s', (_, looked, least) => {
    expect(said(worm, looked).least).toBe(least);
  });

  it('has a range where not all was looked at, and what was not looked at counts for nothing in what is suggested', () => {
    const looked: CoreLookedAt = { points: six('yes', 'not looked at'), components: ['not looked at', 'yes', 'yes', 'no'] };
    expect(said(worm, looked)).toEqual({ least: 'D 32.5 6500', most: 'B 87.5 17500', notLookedAt: 2 });
  });

  it('is never of the best grade where anything is amiss, though no share hangs on it', () => {
    const terms: CoreTerms = { ...worm, shares: percents('60', '40') };
    expect(restOfShares(terms.shares)).toBe(0n);
    expect(said(terms, { points: six('no'), components: ['yes', 'yes'] }).least).toBe('B 100 20000');
  });

  it('has no credit where nobody said one, and no grade where there is no scale; of one grade it has that', () => {
    expect(said({ ...worm, fullCredit: null, grades: [] }, all).least).toBe('null 100 null');
    expect(said({ ...worm, grades: ['Z'] }, { ...all, points: six('no') }).least).toBe('Z 80 16000');
  });

  it('cannot be judged by shares above a hundred, or with an answer short', () => {
    expect(() =>
      judgeCore({ ...worm, shares: percents('60', '40.0001') }, { points: six(), components: ['yes', 'yes'] }),
    ).toThrow(RangeError);
    expect(() => judgeCore(worm, { ...all, components: [] })).toThrow(RangeError);
  });
});

const answer = fc.constantFrom<CoreAnswer>(...coreAnswers);
const anyCore = fc.uniqueArray(fc.integer({ min: 0, max: 1_000_000 }), { maxLength: 8 }).chain((cuts) => {
  const ends = cuts.filter((cut) => cut > 0).sort((one, other) => one - other);
  const shares = ends.map((end, index) => BigInt(end - (ends[index - 1] ?? 0)) as Decimal);
  return fc.record({
    shares: fc.constant(shares),
    fullCredit: fc.bigInt({ min: 0n, max: 10n ** 9n }).map(money),
    grades: fc.integer({ min: 1, max: 7 }).map((count) => [...'ABCDEFG'].slice(0, count)),
    points: fc.array(answer, { minLength: 6, maxLength: 6 }),
    components: fc.array(answer, { minLength: shares.length, maxLength: shares.length }),
  });
});
type AnyCore = typeof anyCore extends fc.Arbitrary<infer Core> ? Core : never;

const rank = (core: AnyCore, grade: string | null): number => core.grades.indexOf(grade ?? '');
/** The same with one answer made worse: good is no longer known, or what was not known is bad. */
const worse: Record<CoreAnswer, CoreAnswer> = { yes: 'not looked at', 'not looked at': 'no', no: 'no' };
const changed = (core: AnyCore, at: number, to: (before: CoreAnswer) => CoreAnswer): AnyCore => {
  const answers = [...core.points, ...core.components].map((each, index) => (index === at ? to(each) : each));
  return { ...core, points: answers.slice(0, 6), components: answers.slice(6) };
};

describe('whatever core and whatever sheet', () => {
  it('one more fault, or one thing less looked at, never raises the grade or the credit that is suggested', () => {
    fc.assert(
      fc.property(anyCore, fc.nat(), (core, seed) => {
        const at = seed % (6 + core.components.length);
        const [before, after] = [
          judgeCore(core, core),
          judgeCore(
            core,
            changed(core, at, (each) => worse[each]),
          ),
        ].map(({ least }) => least);
        expect(after!.credit! <= before!.credit!).toBe(true);
        expect(after!.kept <= before!.kept).toBe(true);
        expect(rank(core, after!.grade)).toBeGreaterThanOrEqual(rank(core, before!.grade));
      }),
    );
  });

  it('what was not looked at counts exactly as a fault in what is suggested, and as good at the most', () => {
    fc.assert(
      fc.property(anyCore, (core) => {
        const filled = (as: CoreAnswer): CoreLookedAt => {
          const put = (each: CoreAnswer) => (each === 'not looked at' ? as : each);
          return { points: core.points.map(put), components: core.components.map(put) };
        };
        const { least, most, notLookedAt } = judgeCore(core, core);
        expect(judgeCore(core, filled('no'))).toEqual({ least, most: least, notLookedAt: 0 });
        expect(judgeCore(core, filled('yes'))).toEqual({ least: most, most, notLookedAt: 0 });
        expect(notLookedAt === 0 ? least : most).toEqual(most);
      }),
    );
  });

  it('all well gives all of the credit and the best grade; nothing gives none', () => {
    fc.assert(
      fc.property(anyCore, (core) => {
        const every = (as: CoreAnswer): CoreLookedAt => ({
          points: core.points.map(() => as),
          components: core.components.map(() => as),
        });
        expect(judgeCore(core, every('yes')).least).toMatchObject({ credit: core.fullCredit, grade: core.grades[0] });
        expect(judgeCore(core, every('no')).most).toMatchObject({ credit: 0n, grade: core.grades.at(-1) });
      }),
    );
  });

  it('what each component brings adds up to the credit, to the last minor unit', () => {
    fc.assert(
      fc.property(anyCore, (core) => {
        const none: CoreLookedAt = { points: core.points.map(() => 'no'), components: core.components.map(() => 'no') };
        const count = core.components.length;
        const alone = core.components.map(
          (_, index) =>
            judgeCore(core, { ...none, components: Array.from({ length: count }, (_, at) => (at === index ? 'yes' : 'no')) })
              .least.credit!,
        );
        const rest = judgeCore(core, { ...none, points: core.points.map(() => 'yes') }).least.credit!;
        expect([...alone, rest].reduce<bigint>((sum, piece) => sum + piece, 0n)).toBe(core.fullCredit);
      }),
    );
  });
});
