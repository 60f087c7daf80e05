import fc from 'fast-check';
import { betaQuantile, betaUpTo, logGamma } from './beta.js';
import { chanceOfAtLeast, confidence, coresMax, coresToBuy, inHundred, surelyGood, yieldOf } from './component-yield.js';

const seen = fc
  .record({ looked: fc.integer({ min: 0, max: 60 }), share: fc.double({ min: 0, max: 1, noNaN: true }) })
  .map(({ looked, share }) => ({ looked, serviceable: Math.round(looked * share) }));

describe('the yield of a component', () => {
  it('of which nothing was looked at can be anything', () => {
    const { mean, interval } = yieldOf({ serviceable: 0, looked: 0 });
    expect(mean).toBe(0.5);
    expect(interval.least).toBeLessThan(0.01);
    expect(interval.most).toBeGreaterThan(0.99);
  });

  it('lies in its interval, which narrows as more are looked at', () => {
    fc.assert(
      fc.property(seen, (counts) => {
        const { mean, interval } = yieldOf(counts);
        expect(interval.least).toBeLessThan(mean);
        expect(interval.most).toBeGreaterThan(mean);
        const more = yieldOf({ serviceable: counts.serviceable * 3, looked: counts.looked * 3 }).interval;
        if (counts.looked > 0) expect(more.most - more.least).toBeLessThan(interval.most - interval.least);
      }),
      { seed: 44 },
    );
  });

  it('of n serviceable is that of n that were not, turned about', () => {
    fc.assert(
      fc.property(seen, ({ serviceable, looked }) => {
        const [one, other] = [yieldOf({ serviceable, looked }), yieldOf({ serviceable: looked - serviceable, looked })];
        expect(one.interval.least).toBeCloseTo(1 - other.interval.most, 12);
      }),
      { seed: 45 },
    );
  });

  it.each([
    [3, 2],
    [-1, 4],
    [1.5, 4],
  ])('refuses %d of %d', (serviceable, looked) => {
    expect(() => yieldOf({ serviceable, looked })).toThrow(RangeError);
  });
});

describe('the cores to buy', () => {
  it('are the fewest that do', () => {
    fc.assert(
      fc.property(seen, fc.integer({ min: 1, max: 6 }), fc.integer({ min: 1, max: 4 }), (counts, wanted, eachHas) => {
        const cores = coresToBuy(counts, wanted, eachHas);
        const [a, b] = [0.5 + counts.serviceable, 0.5 + counts.looked - counts.serviceable];
        if (cores === null) expect(chanceOfAtLeast(wanted, coresMax * eachHas, a, b)).toBeLessThan(confidence);
        else {
          expect(chanceOfAtLeast(wanted, cores * eachHas, a, b)).toBeGreaterThanOrEqual(confidence);
          expect(chanceOfAtLeast(wanted, (cores - 1) * eachHas, a, b)).toBeLessThan(confidence);
        }
      }),
      { seed: 46 },
    );
  });

  it('are none where none is wanted, and no number where the part is never good', () => {
    expect(coresToBuy({ serviceable: 0, looked: 3 }, 0)).toBe(0);
    expect(coresToBuy({ serviceable: 0, looked: 2000 }, 5)).toBeNull();
  });

  it('add up: all chances of so many good ones make one', () => {
    for (const [pieces, a, b] of [
      [7, 0.5, 0.5],
      [12, 3.5, 9.5],
      [40, 20.5, 0.5],
    ] as const) {
      let sum = 0;
      for (let good = 0; good <= pieces; good += 1)
        sum += chanceOfAtLeast(good, pieces, a, b) - chanceOfAtLeast(good + 1, pieces, a, b);
      expect(sum).toBeCloseTo(1, 12);
      expect(chanceOfAtLeast(0, pieces, a, b)).toBe(1);
    }
  });
});

describe('what cores surely give', () => {
  it('is the other side of how many to buy', () => {
    fc.assert(
      fc.property(seen, fc.integer({ min: 1, max: 12 }), fc.integer({ min: 1, max: 4 }), (counts, cores, eachHas) => {
        const good = surelyGood(counts, cores, eachHas);
        expect(coresToBuy(counts, good, eachHas)).toBeLessThanOrEqual(cores);
        expect(coresToBuy(counts, good + 1, eachHas) ?? Number.POSITIVE_INFINITY).toBeGreaterThan(cores);
      }),
      { seed: 48 },
    );
  });

  it('is nothing of what nobody has looked at', () => {
    expect(surelyGood({ serviceable: 0, looked: 0 }, 1)).toBe(0);
  });
});

describe('a yield in hundredths', () => {
  it('claims no more than was reckoned', () => {
    fc.assert(
      fc.property(seen, (counts) => {
        const reckoned = yieldOf(counts);
        const { least, mean, most } = inHundred(reckoned);
        expect(least / 100).toBeLessThanOrEqual(reckoned.interval.least);
        expect(most / 100).toBeGreaterThanOrEqual(reckoned.interval.most);
        expect(mean >= least && mean <= most).toBe(true);
      }),
      { seed: 49 },
    );
  });
});

describe('the beta distribution', () => {
  it('has its quantiles where it reaches their chance', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 0.99, noNaN: true }),
        fc.double({ min: 0.5, max: 400, noNaN: true }),
        fc.double({ min: 0.5, max: 400, noNaN: true }),
        (chance, a, b) => expect(betaUpTo(betaQuantile(chance, a, b), a, b)).toBeCloseTo(chance, 9),
      ),
      { seed: 47 },
    );
  });

  it('goes with the factorials', () => {
    let factorial = 1;
    for (let n = 1; n < 20; n += 1) {
      expect(logGamma(n)).toBeCloseTo(Math.log(factorial), 12);
      factorial *= n;
    }
    expect(logGamma(0.5)).toBeCloseTo(Math.log(Math.sqrt(Math.PI)), 12);
  });
});
