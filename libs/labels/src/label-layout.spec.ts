import { type LabelKind, makeCode } from '@corewright/codes/label-code';
import fc from 'fast-check';
import { layoutLabel, linearHeightMin, linearHeightShareMin, linearModuleDotsMin } from './label-layout.js';
import type { LabelModel } from './label-model.js';
import { type DotRect, type LabelScene, type MeasureText, printerResolutions, type SceneText, textBox } from './label-scene.js';
import { labelStocks } from './label-stock.js';
import { linearQuietModules, matrixQuietModules, type SymbolData } from './symbol-rects.js';

/** Unequal letters, about as wide as those of the real fonts. */
const measure: MeasureText = (text, font, size) => {
  const share = { text: 0.48, strong: 0.5, condensed: 0.4, figures: 0.46 }[font];
  return [...text].reduce((sum, character) => sum + size * (/[il.,: ]/.test(character) ? share / 2 : share), 0);
};

/** Widths of the right sum for a code of so many characters: eleven modules each, and thirteen of the stop. */
function symbolsOf(modules: number): SymbolData {
  const symbols = Math.round((modules - 13) / 11);
  const linear = [...Array.from({ length: symbols }, () => [2, 1, 2, 2, 2, 2]).flat(), 2, 3, 3, 1, 1, 1, 2];
  const pixs = Array.from({ length: 14 * 14 }, (_, index) => (index % 14 === 0 || index >= 13 * 14 || index % 3 === 0 ? 1 : 0));
  return { linear, matrix: { pixs, pixx: 14, pixy: 14 } };
}

/** Modules of Code 128 without quiet zones for codes of six, seven and nine digits before the check (as the encoder gives them). */
const lengths = [
  { serial: 412, modules: 101 },
  { serial: 1_000_000, modules: 112 },
  { serial: 999_999_999, modules: 123 },
];

const stocks = Object.values(labelStocks);
const everyStock = stocks.flatMap((stock) => printerResolutions.map((dpi) => ({ stock, dpi })));

function overlap(one: DotRect, other: DotRect): boolean {
  const roundings = 0.5;
  return (
    one.x + one.width > other.x + roundings &&
    other.x + other.width > one.x + roundings &&
    one.y + one.height > other.y + roundings &&
    other.y + other.height > one.y + roundings
  );
}

/** Capitals and the tails of small letters without accents, which may reach into the line above. */
function letterBox(text: SceneText): DotRect {
  return { x: text.x, y: text.baseline - 0.71 * text.size, width: text.width, height: 0.9 * text.size };
}

function expectTidy(scene: LabelScene): void {
  const label = { x: 0, y: 0, width: scene.width, height: scene.height };
  for (const text of scene.texts) {
    const box = textBox(text);
    for (const symbol of [scene.linear, scene.matrix])
      expect({ text: text.text, hit: overlap(box, symbol.quiet) }).toEqual({ text: text.text, hit: false });
    expect(box.x).toBeGreaterThanOrEqual(0);
    expect(box.y).toBeGreaterThanOrEqual(0);
    expect(box.x + box.width).toBeLessThanOrEqual(label.width);
    expect(box.y + box.height).toBeLessThanOrEqual(label.height);
  }
  scene.texts.forEach((text, index) => {
    for (const other of scene.texts.slice(index + 1)) {
      const pair = `${text.text} | ${other.text}`;
      expect({ pair, hit: overlap(letterBox(text), letterBox(other)) }).toEqual({ pair, hit: false });
    }
  });
  for (const rect of scene.rects) {
    for (const symbol of [scene.linear, scene.matrix]) expect(overlap(rect, symbol.quiet)).toBe(false);
  }
}

function model(fields: Partial<LabelModel>, kind: LabelKind = 'L', serial = 847): LabelModel {
  return { code: makeCode(kind, serial), title: 'Gasket set, worm carrier, cork', ...fields };
}

const full: Partial<LabelModel> = {
  corner: '2 of 2, paperwork',
  badge: 'C',
  subtitle: '48-2290',
  facts: ['about 9 kg', 'owner R. Sandiman'],
  footer: ['packet 1949, sealed', 'inspect, no limit'],
};
const long =
  'Four-speed gearbox with transfer gear and power take-off, right-hand change, long input shaft, and the brake on the output flange';

describe.each(everyStock)('layout of $stock.name at $dpi dpi', ({ stock, dpi }) => {
  const lay = (fields: Partial<LabelModel>, serial = 847, modules = 101) =>
    layoutLabel(model(fields, 'L', serial), symbolsOf(modules), stock, dpi, measure);

  it.each(lengths)('keeps the rules of both symbols for serial $serial', ({ serial, modules }) => {
    for (const fields of [
      full,
      { ...full, warning: 'NOT FOR SERVICE: rubber, past life 1 Jul 2001' },
      { prominent: true, subtitle: 'rack 3' },
    ]) {
      const { linear, matrix, width, height } = lay(fields, serial, modules);
      expect(linear.moduleDots).toBeGreaterThanOrEqual(linearModuleDotsMin[dpi]);
      expect(linear.box.width).toBe(modules * linear.moduleDots);
      expect(linear.quiet.width).toBe((modules + 2 * linearQuietModules) * linear.moduleDots);
      expect(linear.box.height).toBeGreaterThanOrEqual(linearHeightShareMin * linear.quiet.width);
      expect((linear.box.height / dpi) * 25.4).toBeGreaterThan(linearHeightMin - 25.4 / dpi / 2);
      expect(matrix.moduleDots).toBeGreaterThanOrEqual(4);
      expect(matrix.quiet.width).toBe((14 + 2 * matrixQuietModules) * matrix.moduleDots);
      expect(overlap(linear.quiet, matrix.quiet)).toBe(false);
      for (const { quiet } of [linear, matrix]) {
        expect(quiet.x).toBeGreaterThanOrEqual(0);
        expect(quiet.y).toBeGreaterThanOrEqual(0);
        expect(quiet.x + quiet.width).toBeLessThanOrEqual(width);
        expect(quiet.y + quiet.height).toBeLessThanOrEqual(height);
      }
      for (const rect of [...linear.rects, ...matrix.rects]) {
        expect([rect.x, rect.y, rect.width, rect.height].every(Number.isInteger)).toBe(true);
      }
    }
  });

  it('shows everything when it fits', () => {
    const scene = lay(full);
    expect(scene.shortened).toEqual([]);
    const words = scene.texts.map(({ text }) => text).join(' | ');
    for (const part of [
      'L 000847',
      '27',
      '2 of 2, paperwork',
      'C',
      'Gasket set, worm carrier, cork',
      '48-2290',
      'owner R. Sandiman',
      'packet 1949, sealed',
    ]) {
      expect(words).toContain(part);
    }
    expect(words).toContain('about 9 kg');
    expectTidy(scene);
  });

  it('prints a warning white on black', () => {
    const scene = lay({ ...full, warning: 'NOT FOR SERVICE: rubber, past life 1 Jul 2001' });
    const white = scene.texts.filter(({ ink }) => ink === 'white');
    expect(white.map(({ text }) => text)).toEqual(['NOT FOR SERVICE: rubber, past life 1 Jul 2001']);
    const bar = scene.rects.find((rect) => overlap(textBox(white[0]!), rect))!;
    const ink = letterBox(white[0]!);
    expect(ink.y).toBeGreaterThan(bar.y);
    expect(ink.y + ink.height).toBeLessThanOrEqual(bar.y + bar.height + 1);
    expectTidy(scene);
  });

  it('names what it had to shorten and still touches nothing', () => {
    const scene = lay({
      ...full,
      title: `${long} ${long}`,
      subtitle: long,
      facts: [long, long],
      footer: [long, long],
      corner: long,
      badge: long,
    });
    expect(new Set(scene.shortened)).toEqual(new Set(['corner', 'badge', 'title', 'subtitle', 'facts', 'footer']));
    expect(scene.texts.filter(({ text }) => text.endsWith('…')).length).toBeGreaterThan(4);
    expectTidy(scene);
    const warned = lay({ ...full, title: long, warning: `${long} ${long}` });
    expect(warned.shortened).toEqual(expect.arrayContaining(['warning', 'footer']));
    expectTidy(warned);
  });

  it('touches no symbol and no other line whatever the words', () => {
    const words = fc.string({ unit: 'grapheme', maxLength: 90 });
    const short = fc.string({ unit: 'grapheme', maxLength: 30 });
    const fields = fc.record(
      {
        title: words,
        subtitle: words,
        corner: short,
        badge: short,
        warning: words,
        facts: fc.array(words, { maxLength: 3 }),
        footer: fc.array(words, { maxLength: 4 }),
        prominent: fc.boolean(),
      },
      { requiredKeys: ['title'] },
    );
    fc.assert(
      fc.property(fields, fc.constantFrom(...lengths), (given, { serial, modules }) => {
        expectTidy(lay(given, serial, modules));
      }),
      { seed: 61, numRuns: 60 },
    );
  });

  it('refuses a symbol that cannot fit', () => {
    expect(() => lay({}, 847, 13 + 11 * 40)).toThrow(/does not fit/);
  });
});

describe('the code in print', () => {
  it('is about 10 mm tall on the tag and its check digits are smaller', () => {
    const scene = layoutLabel(model({}, 'U', 412), symbolsOf(101), labelStocks['tag-100x50'], 203, measure);
    const [words, check] = scene.texts;
    expect(words).toMatchObject({ text: 'U 000412', font: 'figures' });
    expect(check).toMatchObject({ text: '21', font: 'figures' });
    expect(((0.71 * words!.size) / 203) * 25.4).toBeCloseTo(9.8, 0);
    expect(check!.size).toBeLessThan(words!.size);
  });
});
