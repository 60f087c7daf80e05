import fc from 'fast-check';
import { partNumberKey } from '../part-number-key.js';
import { numbersAsked, oneErrorFrom } from './number-asked.js';

const runs = { numRuns: process.env.CW_LONG ? 20_000 : 500 };
const printed = fc.string({ unit: fc.constantFrom(...'AZ059-./ '), maxLength: 14 });
const keys = fc
  .string({ unit: fc.constantFrom(...'ABZ0123456789'), minLength: 4, maxLength: 14 })
  .filter((key) => /\d/.test(key));

describe('the key of a number', () => {
  it('is its own key, whatever was keyed', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (keyed) => {
        expect(partNumberKey(partNumberKey(keyed))).toBe(partNumberKey(keyed));
      }),
      runs,
    );
  });

  it('is one for many ways of printing: case, separators and full width change nothing', () => {
    fc.assert(
      fc.property(printed, fc.constantFrom('-', ' ', '.', '/', '–', ''), (number, separator) => {
        const otherwise = [...number.toLowerCase()].map((character) => character + separator).join('');
        expect(partNumberKey(otherwise)).toBe(partNumberKey(number));
        const fullWidth = number.replace(/[A-Z0-9]/g, (character) =>
          String.fromCodePoint((character.codePointAt(0) ?? 0) + 0xfee0),
        );
        expect(partNumberKey(fullWidth)).toBe(partNumberKey(number));
      }),
      runs,
    );
  });
});

describe('what was keyed as a number', () => {
  it('may have a maker before it, in full or abbreviated', () => {
    expect(numbersAsked('Brantock 12-345')).toEqual([
      { text: 'Brantock 12-345', key: 'BRANTOCK12345', makerLike: null },
      { text: ' 12-345', key: '12345', makerLike: 'B%R%A%N%T%O%C%K%' },
    ]);
    expect(numbersAsked('brn12345').at(-1)).toMatchObject({ key: '12345', makerLike: 'B%R%N%' });
    expect(numbersAsked('Ostrey-Kell 4G-110').map(({ key }) => key)).toEqual(['OSTREYKELL4G110', 'KELL4G110', '4G110']);
  });

  it('is nothing else where letters say nothing or nothing follows them', () => {
    expect(numbersAsked('S11-204')).toHaveLength(1);
    expect(numbersAsked('oil seal')).toHaveLength(1);
    expect(numbersAsked(' -/. ')).toEqual([]);
  });
});

describe('one typing error', () => {
  const errors = fc.record({
    at: fc.nat(13),
    kind: fc.constantFrom('wrong', 'missing', 'doubled', 'swapped'),
    by: fc.constantFrom(...'AQ07'),
  });

  it('anywhere in a number is undone by one of what it can have meant', () => {
    fc.assert(
      fc.property(keys, errors, (key, { at: anywhere, kind, by }) => {
        const at = anywhere % (key.length - 1);
        const [before, here, next, behind] = [key.slice(0, at), key.charAt(at), key.charAt(at + 1), key.slice(at + 2)];
        const misspelt = { wrong: by + next, missing: next, doubled: here + here + next, swapped: next + here }[kind];
        const keyed = before + misspelt + behind;
        fc.pre(keyed !== key && keyed.length >= 4 && /\d/.test(keyed));
        expect(oneErrorFrom(keyed)).toContain(key);
      }),
      runs,
    );
  });

  it('never leads back to what was keyed, and is not looked for in a word or in very little', () => {
    fc.assert(
      fc.property(keys, (key) => {
        expect(oneErrorFrom(key)).not.toContain(key);
      }),
      runs,
    );
    expect([oneErrorFrom('SEAL'), oneErrorFrom('48A')]).toEqual([[], []]);
  });
});
