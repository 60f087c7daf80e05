import { shareByLargestRemainder } from '@corewright/costing/largest-remainder';
import { shareCost } from '@corewright/costing/share-cost';
import { formatMoney, type Money, minorPlacesOf, moneyFrom } from '@corewright/quantities/money';

/** A joint cost over values, each as it is written in the source; ours to the penny. */
function shared(cost: string, values: readonly string[]): string[] {
  const rows = values.map((worth, index) => ({ id: String(index), worth: moneyFrom(worth, 'GBP'), weight: null }));
  const outcome = shareCost(moneyFrom(cost, 'GBP'), 'relative value', rows);
  if (!outcome.ok) throw new Error(outcome.obstacle.code);
  return [...outcome.shares.values()].map((share) => formatMoney(share, 'GBP'));
}

describe('a joint cost by relative sales value', () => {
  it('is that of the question tutorsglobe 51687723: 20,000 over 1,000 at 20, 500 at 200 and 500 at 160 (answers computed there)', () => {
    const units = [1_000, 500, 500];
    const prices = [20, 200, 160];
    const allocated = shared(
      '20000',
      units.map((count, index) => String(count * (prices[index] ?? 0))),
    );
    expect(allocated).toEqual(['2000.00', '10000.00', '8000.00']);
    const each = allocated.map((share, index) => Number(share) / (units[index] ?? 0));
    expect(each).toEqual([2, 20, 16]);
    expect([100, 200, 300].reduce((sum, left, index) => sum + left * (each[index] ?? 0), 0)).toBe(9_000);
  });

  it('is that of the question qammunity 6871671, where the cost is above the values (answers computed there)', () => {
    expect(shared('310000', ['136800', '107400', '46800'])).toEqual(['145731.96', '114412.37', '49855.67']);
  });
});

describe('the largest remainder', () => {
  it('is that of infinitelexicon, largestremainder: 7 over 50, 30, 20 (last step computed)', () => {
    expect(shareByLargestRemainder(7n, [50n, 30n, 20n])).toEqual([4n, 2n, 1n]);
  });

  it('is that of solvely 459845938: 42 over 247, 185, 459, 400, 413', () => {
    expect(shareByLargestRemainder(42n, [247n, 185n, 459n, 400n, 413n])).toEqual([6n, 5n, 11n, 10n, 10n]);
  });

  it('is Hamilton’s, 120 seats by the census of 1790, as Balinski and Young, Fair Representation, have it (from memory)', () => {
    const states: [string, number, number][] = [
      ['Virginia', 630_560, 21],
      ['Massachusetts', 475_327, 16],
      ['Pennsylvania', 432_879, 14],
      ['North Carolina', 353_523, 12],
      ['New York', 331_589, 11],
      ['Maryland', 278_514, 9],
      ['Connecticut', 236_841, 8],
      ['South Carolina', 206_236, 7],
      ['New Jersey', 179_570, 6],
      ['New Hampshire', 141_822, 5],
      ['Vermont', 85_533, 3],
      ['Georgia', 70_835, 2],
      ['Kentucky', 68_705, 2],
      ['Rhode Island', 68_446, 2],
      ['Delaware', 55_540, 2],
    ];
    expect(states.reduce((sum, [, people]) => sum + people, 0)).toBe(3_615_920);
    const seats = shareByLargestRemainder(
      120n,
      states.map(([, people]) => BigInt(people)),
    );
    expect(states.map(([name], index) => [name, Number(seats[index])])).toEqual(states.map(([name, , given]) => [name, given]));
  });
});

describe('the places of a currency', () => {
  it('are those of ISO 4217 for the currencies with another minor unit than a hundredth (from memory)', () => {
    const byPlaces: Record<number, string> = {
      0: 'BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF',
      2: 'AUD CAD CHF CZK DKK EUR GBP HUF NOK NZD PLN SEK USD ZAR',
      3: 'BHD IQD JOD KWD LYD OMR TND',
      4: 'CLF UYW',
    };
    for (const [places, codes] of Object.entries(byPlaces))
      expect(codes.split(' ').map((code) => `${code} ${minorPlacesOf(code)}`)).toEqual(
        codes.split(' ').map((code) => `${code} ${places}`),
      );
  });

  it('are those that the runtime has from Unicode CLDR, for the currencies that a workshop may buy in', () => {
    for (const code of 'AUD CAD CHF CZK DKK EUR GBP JPY NOK NZD PLN SEK USD ZAR KWD BHD'.split(' ')) {
      const written = new Intl.NumberFormat('en-GB', { style: 'currency', currency: code }).format(0);
      expect(`${code} ${(written.split('.')[1] ?? '').length}`).toBe(`${code} ${minorPlacesOf(code)}`);
    }
    expect(formatMoney(1n as Money, 'KWD')).toBe('0.001');
  });
});
