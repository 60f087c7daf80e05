import { makeCode, parseCode, remainder97 } from '@corewright/codes/label-code';
import { mod97_10 } from 'cdigit';

const long = process.env.CW_LONG !== undefined;

/** Small generator with a fixed seed (xorshift32), so that a failure is repeated by running again. */
function randomIntegers(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    state >>>= 0;
    return state % below;
  };
}

const seed = long ? (Date.now() & 0x7fffffff) | 1 : 20261124;
const random = randomIntegers(seed);
if (long) console.info(`check-digits seed ${seed}`);

const kinds = ['U', 'L', 'C', 'X', 'P', 'J', 'T', 'B', 'K'] as const;

function letterValues(text: string): string {
  return [...text].map((character) => Number.parseInt(character, 36)).join('');
}

describe('check digits against published examples', () => {
  // Examples of the IBAN registry (ISO 13616) as printed in many banks' guides; transcribed from memory. Remainder 1 after
  // the first four characters are moved to the end.
  it.each([
    'GB29NWBK60161331926819',
    'DE89370400440532013000',
    'NO9386011117947',
    'FR1420041010050500013M02606',
    'BE68539007547034',
  ])('ISO 13616, IBAN registry example %s leaves 1', (iban) => {
    expect(remainder97(iban.slice(4) + iban.slice(0, 4))).toBe(1);
    const wrong = iban.slice(4, -1) + String((Number(iban.at(-1)) + 1) % 10) + iban.slice(0, 4);
    expect(remainder97(wrong)).not.toBe(1);
  });

  // Example of ISO 11649 (creditor reference), from memory.
  it('ISO 11649 example RF18 5390 0754 7034 leaves 1', () => {
    expect(remainder97('539007547034RF18')).toBe(1);
  });

  // Worked example usually given with ISO/IEC 7064 MOD 97-10 (794 takes 44), from memory.
  it('ISO/IEC 7064 MOD 97-10: 794 takes the check digits 44', () => {
    expect(98 - remainder97('79400')).toBe(44);
    expect(remainder97('79444')).toBe(1);
  });
});

describe('check digits against the independent package cdigit', () => {
  it('agrees on random kinds and serials of six to nine digits', () => {
    for (let round = 0; round < (long ? 20_000 : 4_000); round += 1) {
      const kind = kinds[random(kinds.length)]!;
      const serial = 1 + random([999_999, 9_999_999, 999_999_999][random(3)]!);
      const code = makeCode(kind, serial);
      const numerals = letterValues(code.slice(0, -2));
      expect(code.slice(-2)).toBe(mod97_10.compute(numerals));
      expect(mod97_10.validate(letterValues(code))).toBe(true);
      expect(parseCode(code).ok).toBe(true);
    }
  });

  it('agrees on which codes with random check digits hold', () => {
    for (let round = 0; round < (long ? 20_000 : 4_000); round += 1) {
      const kind = kinds[random(kinds.length)]!;
      const body = kind + String(1 + random(999_999)).padStart(6, '0');
      const code = body + String(random(100)).padStart(2, '0');
      // The package computes the one right pair; a pair that is 97 away leaves the same remainder and is no code of ours.
      expect(parseCode(code).ok).toBe(mod97_10.compute(letterValues(body)) === code.slice(-2));
    }
  });
});

describe('wrong characters', () => {
  const alphabet = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ';

  it('refuses every single wrong character, in every place, of sampled codes', () => {
    for (let round = 0; round < (long ? 600 : 60); round += 1) {
      const code = makeCode(kinds[round % kinds.length]!, 1 + random(round % 5 === 0 ? 99_999_999 : 999_999));
      for (let place = 0; place < code.length; place += 1) {
        for (const character of alphabet) {
          if (character === code[place]) continue;
          expect(parseCode(code.slice(0, place) + character + code.slice(place + 1)).ok).toBe(false);
        }
      }
    }
  });

  it('refuses every two neighbouring digits that were swapped', () => {
    for (let round = 0; round < (long ? 5_000 : 500); round += 1) {
      const code = makeCode(kinds[round % kinds.length]!, 1 + random(999_999));
      for (let place = 1; place < code.length - 1; place += 1) {
        if (code[place] === code[place + 1]) continue;
        const swapped = code.slice(0, place) + code[place + 1]! + code[place]! + code.slice(place + 2);
        expect(parseCode(swapped).ok).toBe(false);
      }
    }
  });

  it('lets about one in 97 of wholly random digits pass, which is why a scan shows what it resolved to', () => {
    let passed = 0;
    const rounds = 20_000;
    for (let round = 0; round < rounds; round += 1) {
      if (parseCode(`U${String(random(100_000_000)).padStart(8, '0')}`).ok) passed += 1;
    }
    expect(passed / rounds).toBeGreaterThan(1 / 130);
    expect(passed / rounds).toBeLessThan(1 / 75);
  });
});
