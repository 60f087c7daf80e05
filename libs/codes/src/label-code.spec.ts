import {
  codeParts,
  formatCode,
  formatComponentOf,
  type LabelKind,
  labelKinds,
  makeCode,
  parseCode,
  serialMax,
} from './label-code.js';

const examples: [LabelKind, number, string][] = [
  ['U', 412, 'U00041221'],
  ['J', 107, 'J00010781'],
  ['L', 847, 'L00084727'],
  ['L', 844, 'L00084436'],
  ['X', 57, 'X00005767'],
  ['P', 312, 'P00031247'],
  ['T', 31, 'T00003181'],
  ['K', 1, 'K00000127'],
  ['C', 1176, 'C00117660'],
];

function errorOf(text: string) {
  const parsed = parseCode(text);
  return parsed.ok ? 'none' : parsed.error.kind;
}

describe('label codes', () => {
  it.each(examples)('makes and reads %s %i as %s', (kind, serial, code) => {
    expect(makeCode(kind, serial)).toBe(code);
    expect(parseCode(code)).toEqual({ ok: true, value: { kind, serial, code } });
  });

  it('gives seven digits and more once six are used up', () => {
    const code = makeCode('L', 1_000_000);
    expect(code).toHaveLength(10);
    expect(parseCode(code)).toMatchObject({ ok: true, value: { serial: 1_000_000 } });
    expect(parseCode(makeCode('U', serialMax))).toMatchObject({ ok: true, value: { serial: serialMax } });
  });

  it('reads every kind back for many serials', () => {
    for (const kind of Object.keys(labelKinds) as LabelKind[]) {
      for (let serial = 1; serial < 2_000_000; serial += 9973) {
        expect(parseCode(makeCode(kind, serial))).toMatchObject({ ok: true, value: { kind, serial } });
      }
    }
  });

  it('takes spaces and small letters as keyed by hand', () => {
    for (const text of ['U 000412 21', ' u00041221 ', 'u 000\u00a0412 21\t']) {
      expect(parseCode(text)).toEqual({ ok: true, value: { kind: 'U', serial: 412, code: 'U00041221' } });
    }
  });

  it.each([
    ['', 'empty'],
    ['   ', 'empty'],
    ['48-2290', 'wrong-form'],
    ['U0004122', 'wrong-form'],
    ['00041221', 'wrong-form'],
    ['UU0041221', 'wrong-form'],
    ['U0004122X', 'wrong-form'],
    ['U-000412-21', 'wrong-form'],
    ['U00041221U00041221', 'wrong-form'],
    // The same number with a needless nought before it would be a second spelling of one code.
    ['U000041221', 'wrong-form'],
    // Arabic-Indic digits are digits to some programs; not here.
    ['U٠٠٠٤١٢٢١', 'wrong-form'],
    ['U00000085', 'wrong-form'],
    ['A00041221', 'unknown-kind'],
    ['U00041222', 'wrong-check'],
  ])('refuses %j as %s', (text, kind) => {
    expect(errorOf(text)).toBe(kind);
  });

  it('looks at the form before the kind, and at the kind before the check digits', () => {
    expect(errorOf('A0004122')).toBe('wrong-form');
    expect(errorOf('A00041299')).toBe('unknown-kind');
  });

  it('refuses check digits outside 02 to 98 even where the remainder is right', () => {
    // 97 apart leaves the same remainder, so for each code that ends 02 there is one that ends 99.
    let seen = 0;
    for (let serial = 1; serial < 1000; serial += 1) {
      const { digits, check } = codeParts(makeCode('U', serial));
      const twin = { '02': '99', '97': '00', '98': '01' }[check];
      if (twin === undefined) continue;
      seen += 1;
      expect(errorOf(`U${digits}${twin}`)).toBe('wrong-check');
    }
    expect(seen).toBeGreaterThan(10);
  });

  it('says in plain words what is wrong', () => {
    const parsed = parseCode('U00041222');
    expect(parsed).toMatchObject({
      ok: false,
      error: { message: 'The check digits of U 000412 22 do not agree. Read the label again.' },
    });
  });

  it('shows a code in its parts', () => {
    const code = makeCode('U', 412);
    expect(formatCode(code)).toBe('U 000412 21');
    expect(codeParts(code)).toEqual({ kind: 'U', digits: '000412', check: '21' });
    expect(formatComponentOf(code, 3, 9)).toBe('U 000412 21, 3 of 9');
  });

  it.each([0, -1, 1.5, serialMax + 1, Number.NaN])('throws on the serial %d', (serial) => {
    expect(() => makeCode('U', serial)).toThrow(RangeError);
  });
});
