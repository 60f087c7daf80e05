import fc from 'fast-check';
import {
  addDecimals,
  compareDecimals,
  decimalFrom,
  formatDecimal,
  multiplyByInteger,
  parseQuantity,
  subtractDecimals,
} from './decimal.js';
import { checkQuantity, formatQuantity } from './unit-of-measure.js';

// the same runs each time; a failure prints its seed and path
fc.configureGlobal({ seed: 20261125 });

const scaled = fc.bigInt({ min: -(10n ** 14n) + 1n, max: 10n ** 14n - 1n });

function textOf(value: bigint): string {
  const digits = (value < 0n ? -value : value).toString().padStart(5, '0');
  return `${value < 0n ? '-' : ''}${digits.slice(0, -4)}.${digits.slice(-4)}`;
}

describe('exact decimals', () => {
  it.each([
    ['3', '3'],
    ['2.50', '2.5'],
    ['.25', '0.25'],
    ['5.', '5'],
    ['-1', '-1'],
    ['-0', '0'],
    [' 007 ', '7'],
    ['1.00000', '1'],
    ['9999999999.9999', '9999999999.9999'],
  ])('reads %s as %s', (text, written) => {
    expect(formatDecimal(decimalFrom(text))).toBe(written);
  });

  it.each([
    ['', 'not-a-number', /Nothing was keyed/],
    ['two', 'not-a-number', /not a number/],
    ['.', 'not-a-number', /not a number/],
    ['1e3', 'not-a-number', /not a number/],
    ['2,5', 'not-a-number', /comma\. Key a point/],
    ['1,000.5', 'not-a-number', /comma/],
    ['NaN', 'not-a-number', /not a number/],
    ['1.2.3', 'not-a-number', /not a number/],
    ['0.00001', 'too-fine', /four figures/],
    ['10000000000', 'too-large', /ten figures/],
    ['9'.repeat(1_000_000), 'too-large', /too long/],
  ])('refuses %.20s', (text, code, sentence) => {
    expect(parseQuantity(text)).toEqual({ ok: false, error: { code, sentence: expect.stringMatching(sentence) } });
  });

  it('reads back what it writes', () => {
    fc.assert(fc.property(scaled, (value) => decimalFrom(formatDecimal(decimalFrom(textOf(value)))) === value));
  });

  it('adds, takes away, compares and multiplies as whole ten-thousandths do', () => {
    const small = fc.bigInt({ min: -(10n ** 12n), max: 10n ** 12n });
    fc.assert(
      fc.property(small, small, fc.integer({ min: -50, max: 50 }), (a, b, factor) => {
        const [x, y] = [decimalFrom(textOf(a)), decimalFrom(textOf(b))];
        expect(addDecimals(x, y)).toBe(a + b);
        expect(subtractDecimals(x, y)).toBe(a - b);
        expect(multiplyByInteger(x, factor)).toBe(a * BigInt(factor));
        expect(Math.sign(compareDecimals(x, y))).toBe(Math.sign(Number(a - b)));
      }),
    );
  });

  it('throws rather than leave the range of the column', () => {
    expect(() => addDecimals(decimalFrom('9999999999.9999'), decimalFrom('0.0001'))).toThrow(RangeError);
    expect(() => multiplyByInteger(decimalFrom('1'), 1.5)).toThrow(RangeError);
  });
});

describe('quantities with a unit', () => {
  it.each([
    ['3', 'each', '3'],
    ['3.0', 'each', '3'],
    ['2.5', 'm', '2.5 m'],
    ['0.0001', 'mm', '0.0001 mm'],
    ['750', 'g', '750 g'],
  ] as const)('%s %s is %s', (text, unit, written) => {
    const checked = checkQuantity(text, unit);
    expect(checked.ok && formatQuantity(checked.value, unit)).toBe(written);
  });

  it.each([
    ['0', 'each', 'zero', /Nought moves nothing/],
    ['0.0000', 'g', 'zero', /Nought/],
    ['-2', 'each', 'negative', /more than nought/],
    ['2.5', 'each', 'too-fine', /^Each comes whole\. Key 2 or 3\.$/],
    ['0.5', 'each', 'too-fine', /^Each comes whole\. Key 1\.$/],
    ['9999999999.5', 'each', 'too-fine', /^Each comes whole\. Key 9999999999\.$/],
    ['0.00005', 'mm', 'too-fine', /four figures/],
    ['99999999999', 'each', 'too-large', /too large/],
    ['lots', 'each', 'not-a-number', /not a number/],
  ] as const)('refuses %s %s', (text, unit, code, sentence) => {
    expect(checkQuantity(text, unit)).toEqual({ ok: false, error: { code, sentence: expect.stringMatching(sentence) } });
  });
});
