import fc from 'fast-check';
import { convertMoney, formatMoney, type Money, minorPlacesOf, moneyFrom, parseMoney, parseRate } from './money.js';

// the same runs each time; a failure prints its seed and path
fc.configureGlobal({ seed: 20261126 });

const currency = fc.constantFrom('GBP', 'EUR', 'JPY', 'KWD', 'CLF');
const amount = fc.bigInt({ min: -(10n ** 13n) + 1n, max: 10n ** 13n - 1n }).map((value) => value as Money);

function rateOf(text: string) {
  const rate = parseRate(text);
  if (!rate.ok) throw new Error(rate.error.sentence);
  return rate.value;
}

describe('an amount of money', () => {
  it.each([
    ['1250', 'GBP', 125_000n],
    ['12.5', 'GBP', 1_250n],
    ['.05', 'EUR', 5n],
    ['0', 'GBP', 0n],
    [' 007.10 ', 'GBP', 710n],
    ['1.500', 'GBP', 150n],
    ['1250', 'JPY', 1_250n],
    ['1.005', 'KWD', 1_005n],
    ['99999999999.99', 'GBP', 9_999_999_999_999n],
  ])('keyed as "%s" in %s is %i of its smallest unit', (text, code, minor) => {
    expect(parseMoney(text, code)).toEqual({ ok: true, value: minor });
  });

  it.each([
    ['', 'GBP', 'not-a-number', /Nothing was keyed/],
    ['£12', 'GBP', 'not-a-number', /without a sign of the currency/],
    ['12 quid', 'GBP', 'not-a-number', /not an amount/],
    ['1,250.00', 'GBP', 'not-a-number', /comma\. Key a point/],
    ['1e3', 'GBP', 'not-a-number', /not an amount/],
    ['-5', 'GBP', 'negative', /less than nought/],
    ['0.005', 'GBP', 'too-fine', /GBP has 2 figures/],
    ['1.5', 'JPY', 'too-fine', /no smaller unit/],
    ['100000000000', 'GBP', 'too-large', /11 figures/],
    ['9'.repeat(1_000_000), 'GBP', 'too-large', /too long/],
  ])('keyed as "%.20s" in %s is refused', (text, code, refusal, sentence) => {
    expect(parseMoney(text, code)).toEqual({ ok: false, error: { code: refusal, sentence: expect.stringMatching(sentence) } });
  });

  it('is read back as it is written, in any currency, less than nought too', () => {
    fc.assert(fc.property(amount, currency, (money, code) => moneyFrom(formatMoney(money, code), code) === money));
    expect(formatMoney(-5n as Money, 'GBP')).toBe('-0.05');
    expect(formatMoney(0n as Money, 'JPY')).toBe('0');
  });
});

describe('a rate', () => {
  it.each(['', '0', '0.000', '-1', '1,2', 'par', '1.2.3', '0.00000000001', '1e2'])('keyed as "%s" is refused', (text) => {
    expect(parseRate(text)).toMatchObject({ ok: false });
  });

  it.each([
    ['100.00', 'EUR', 'GBP', '0.8642', '86.42'],
    ['0.01', 'EUR', 'GBP', '0.5', '0.01'],
    ['0.01', 'EUR', 'GBP', '0.4999', '0.00'],
    ['-0.01', 'EUR', 'GBP', '0.5', '-0.01'],
    ['12345', 'JPY', 'GBP', '0.0052', '64.19'],
    ['10.00', 'GBP', 'KWD', '0.4', '4.000'],
  ])('turns %s %s into %s at %s: %s', (from, fromCode, toCode, rate, to) => {
    expect(formatMoney(convertMoney(moneyFrom(from, fromCode), fromCode, toCode, rateOf(rate)), toCode)).toBe(to);
  });

  it('is off by half a smallest unit at the most', () => {
    fc.assert(
      fc.property(amount, fc.integer({ min: 1, max: 10_000_000 }), (money, millionths) => {
        const rate = rateOf(`${Math.floor(millionths / 1_000_000)}.${String(millionths % 1_000_000).padStart(6, '0')}`);
        const off = convertMoney(money, 'EUR', 'GBP', rate) * 1_000_000n - money * BigInt(millionths);
        return off <= 500_000n && off >= -500_000n;
      }),
    );
  });

  it('knows the places of a currency', () => {
    expect(['GBP', 'EUR', 'JPY', 'BHD', 'CLF'].map(minorPlacesOf)).toEqual([2, 2, 0, 3, 4]);
  });
});
