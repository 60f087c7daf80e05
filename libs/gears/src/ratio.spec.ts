import fc from 'fast-check';
import { pairsThatFit, rangeOf, type TurnsCounted, turnsToTellApart, whyNoRange } from './counted-turns.js';
import { greatestCommonDivisor, huntingOf, ratioOf, sayRatio, turnsUntilSameTeeth, whyNoTeeth } from './ratio.js';

const teeth = fc.integer({ min: 1, max: 120 });
const mesh = fc.record({ driver: teeth, driven: teeth });

describe('a ratio from counted teeth', () => {
  it('is said to three places, rounded half up, without zeros at the end', () => {
    expect(sayRatio(ratioOf([{ driver: 8, driven: 39 }]))).toBe('4.875');
    expect(sayRatio(ratioOf([{ driver: 11, driven: 41 }]))).toBe('3.727');
    expect(sayRatio(ratioOf([{ driver: 10, driven: 40 }]))).toBe('4');
    expect(sayRatio({ numerator: 1, denominator: 2000 })).toBe('0.001');
  });

  it('of meshes in turn is their product, whatever their order', () => {
    fc.assert(
      fc.property(fc.array(mesh, { minLength: 1, maxLength: 4 }), (meshes) => {
        const ratio = ratioOf(meshes);
        expect(ratioOf(meshes.toReversed())).toEqual(ratio);
        const product = meshes.reduce((sum, { driver, driven }) => (sum * driven) / driver, 1);
        expect(ratio.numerator / ratio.denominator / product).toBeCloseTo(1, 9);
        expect(greatestCommonDivisor(ratio.numerator, ratio.denominator)).toBe(1);
      }),
      { seed: 41 },
    );
  });

  it('hunts where the teeth have no common factor, as turning the gears tooth by tooth shows', () => {
    fc.assert(
      fc.property(mesh, (pair) => {
        // tooth 0 of the driver, turn after turn, until it is back in gap 0
        const met = new Set<number>();
        for (let turn = 0; !met.has((turn * pair.driver) % pair.driven); turn += 1) met.add((turn * pair.driver) % pair.driven);
        expect(turnsUntilSameTeeth(pair)).toBe(met.size);
        expect(huntingOf(pair) === 'hunting').toBe(met.size === pair.driven);
      }),
      { seed: 42 },
    );
    expect([huntingOf({ driver: 9, driven: 42 }), huntingOf({ driver: 10, driven: 40 })]).toEqual([
      'partly hunting',
      'not hunting',
    ]);
  });

  it('refuses what is no count of teeth', () => {
    for (const wrong of [0, -3, 7.5, Number.NaN, 4000]) {
      expect(whyNoTeeth({ driver: wrong, driven: 40 })).not.toBeNull();
      expect(() => ratioOf([{ driver: 9, driven: wrong }])).toThrow(RangeError);
    }
  });
});

describe('a ratio from counted turns', () => {
  const counted = (inputTurns: number, more: Partial<TurnsCounted> = {}): TurnsCounted => ({
    inputTurns,
    mayBeOffBy: 0.125,
    outputTurns: 1,
    output: 'both sides, or the wheel itself',
    ...more,
  });
  const axle = { driver: { least: 6, most: 14 }, driven: { least: 30, most: 60 } };

  it('lies between what the reading allows', () => {
    expect(rangeOf(counted(4.875, { outputTurns: 1 }))).toEqual({ least: 4.75, middle: 4.875, most: 5 });
    expect(rangeOf(counted(48.75, { outputTurns: 10 })).most).toBeCloseTo(4.8875, 9);
  });

  it('with one side held counts two turns for each of the wheel', () => {
    const held = { output: 'one side, the other held' as const };
    expect(rangeOf(counted(4.875, { ...held, outputTurns: 2 })).middle).toBe(4.875);
    expect(rangeOf(counted(4.875, { ...held, outputTurns: 1 })).middle).toBe(9.75);
  });

  it('leaves the pairs that fit, and always the one that turned', () => {
    const pair = fc.record({ driver: fc.integer({ min: 6, max: 14 }), driven: fc.integer({ min: 30, max: 60 }) });
    fc.assert(
      fc.property(pair, fc.integer({ min: 1, max: 20 }), fc.double({ min: -1, max: 1, noNaN: true }), (made, turns, error) => {
        const read = (made.driven / made.driver) * turns + error * 0.125;
        const fitting = pairsThatFit(rangeOf(counted(read, { outputTurns: turns })), axle);
        expect(fitting).toContainEqual(expect.objectContaining(made));
        const offs = fitting.map(({ offBy }) => offBy);
        expect(offs).toEqual([...offs].sort((one, other) => one - other));
      }),
      { seed: 43 },
    );
  });

  it('leaves fewer the further it was turned', () => {
    const after = (turns: number) => pairsThatFit(rangeOf(counted((39 / 8) * turns, { outputTurns: turns })), axle).length;
    expect(after(1)).toBeGreaterThan(after(5));
    expect(after(5)).toBeGreaterThanOrEqual(after(20));
  });

  it('tells two ratios apart by the turns that it names, and not by one turn less', () => {
    const [near, next] = [ratioOf([{ driver: 8, driven: 39 }]), ratioOf([{ driver: 9, driven: 43 }])];
    const turns = turnsToTellApart(near, next, counted(4.875)) ?? 0;
    const apart = (after: number) => Math.abs(39 / 8 - 43 / 9) * after;
    expect(apart(turns)).toBeGreaterThan(0.25);
    expect(apart(turns - 1)).toBeLessThanOrEqual(0.25);
    expect(turnsToTellApart(near, next, counted(4.875, { output: 'one side, the other held' }))).toBe(2 * turns);
    expect(turnsToTellApart(near, ratioOf([{ driver: 16, driven: 78 }]), counted(4.875))).toBeNull();
  });

  it('says why nothing follows from it', () => {
    expect(whyNoRange(counted(4, { outputTurns: 0 }))).toMatch(/Turn the output/);
    expect(whyNoRange(counted(0))).toMatch(/The input turned/);
    expect(whyNoRange(counted(1, { mayBeOffBy: 2 }))).toMatch(/any ratio fits/);
    expect(whyNoRange(counted(Number.NaN))).toMatch(/as numbers/);
    expect(() => rangeOf(counted(0))).toThrow(RangeError);
  });
});
