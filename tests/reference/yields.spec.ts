import { betaQuantile } from '@corewright/yields/beta';
import { coresToBuy, yieldOf } from '@corewright/yields/component-yield';
import jstat from 'jstat';

/** An independent library of statistics, MIT. */
const { beta, betafn, combination } = (jstat as { jStat: IndependentStatistics }).jStat;

interface IndependentStatistics {
  beta: { inv(chance: number, a: number, b: number): number };
  betafn(a: number, b: number): number;
  combination(n: number, k: number): number;
}

it('has the exact limits of C. J. Clopper and E. S. Pearson, Biometrika 26 (1934), for 7 of 10 at 95 %, as two libraries give them', () => {
  expect(betaQuantile(0.025, 7, 4)).toBeCloseTo(0.34755, 5);
  expect(betaQuantile(0.975, 8, 3)).toBeCloseTo(0.93326, 5);
});

it('has the limit that L. D. Brown, T. T. Cai and A. DasGupta, Statistical Science 16 (2001), table for Jeffreys’ prior give for 0 of 10 (from memory)', () => {
  expect(betaQuantile(0.975, 0.5, 10.5)).toBeCloseTo(0.217, 3);
});

it('has the quantiles that jStat has, for counts as small as one and as large as a thousand', () => {
  const counts = [0, 1, 2, 3, 7, 12, 40, 300, 1000];
  for (const good of counts)
    for (const bad of counts)
      for (const chance of [0.05, 0.1, 0.5, 0.9, 0.95]) {
        const [a, b] = [0.5 + good, 0.5 + bad];
        expect(betaQuantile(chance, a, b)).toBeCloseTo(beta.inv(chance, a, b), 7);
      }
  const { least, most } = yieldOf({ serviceable: 9, looked: 14 }).interval;
  expect([least, most]).toEqual([beta.inv(0.05, 9.5, 5.5), beta.inv(0.95, 9.5, 5.5)].map((value) => expect.closeTo(value, 8)));
});

it('buys as many cores as the beta-binomial distribution asks for, summed by jStat’s own functions', () => {
  for (const [serviceable, looked, wanted, eachHas] of [
    [9, 14, 1, 1],
    [9, 14, 4, 1],
    [2, 11, 3, 1],
    [5, 8, 5, 2],
    [0, 6, 1, 4],
  ] as const) {
    const [a, b] = [0.5 + serviceable, 0.5 + looked - serviceable];
    const fewerThanWanted = (pieces: number) => {
      let chance = 0;
      for (let good = 0; good < wanted && good <= pieces; good += 1)
        chance += (combination(pieces, good) * betafn(good + a, pieces - good + b)) / betafn(a, b);
      return chance;
    };
    let cores = 1;
    while (fewerThanWanted(cores * eachHas) > 0.1) cores += 1;
    expect(coresToBuy({ serviceable, looked }, wanted, eachHas)).toBe(cores);
  }
});
