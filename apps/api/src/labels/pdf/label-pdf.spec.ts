import { inflateSync } from 'node:zlib';
import { makeCode } from '@corewright/codes/label-code';
import { type LabelModel, lotLabel, placeLabel, unitTags } from '@corewright/labels/label-model';
import { type LabelStock, labelStocks } from '@corewright/labels/label-stock';
import { PDFiumLibrary } from '@hyzyla/pdfium';
import { fontOf, glyphsOf, measureText } from './label-fonts.js';
import { labelPdf, labelScene } from './label-pdf.js';
import { encodeSymbols } from './symbols.js';

const bag = labelStocks['label-50x30'];
const tag = labelStocks['tag-100x50'];
const sheet = labelStocks['sheet-a4-24'];

const gasket = lotLabel({
  code: makeCode('L', 847),
  title: 'Gasket set, worm carrier, cork',
  number: '48-2290',
  provenance: 'old stock, genuine',
  packet: '1949, sealed',
  notes: ['inspect, no limit'],
});
const [casing] = unitTags({
  code: makeCode('U', 412),
  title: 'Overhead-worm axle',
  subtitle: 'Brantock WD7 · 7¾ : 1 · 4/31',
  grade: 'C',
  weight: 'about 186 kg, two to lift',
  owner: 'R. Sandiman',
  marks: 'WD7 4?18',
  notes: ['in 2 Oct 2026', 'drained'],
});

async function textsOf(pdf: Buffer): Promise<string[]> {
  const library = await PDFiumLibrary.init();
  try {
    const document = await library.loadDocument(pdf);
    return [...document.pages()].map((page) => page.getText());
  } finally {
    library.destroy();
  }
}

/** Page contents of a file of ours, in order; fonts and maps come before them. */
function contentsOf(pdf: Buffer): string[] {
  const text = pdf.toString('latin1');
  return [...text.matchAll(/\/Contents (\d+) 0 R/g)].map(([, number]) => {
    const at = text.indexOf('stream\n', text.indexOf(`\n${number} 0 obj`)) + 'stream\n'.length;
    return inflateSync(pdf.subarray(at)).toString('latin1');
  });
}

describe('label PDF', () => {
  it.each([
    ['tag at 203 dpi', tag, 203, casing, 799, 400],
    ['tag at 300 dpi', tag, 300, casing, 1181, 591],
    ['bag label at 203 dpi', bag, 203, gasket, 400, 240],
    ['bag label at 300 dpi', bag, 300, gasket, 591, 354],
  ] as [string, LabelStock, 203 | 300, LabelModel, number, number][])(
    'has whole dots less a hundredth of a point: %s',
    async (_name, stock, dpi, label, width, height) => {
      const pdf = await labelPdf({ stock, dpi, labels: [label] });
      const box = /MediaBox\[0 0 ([\d.]+) ([\d.]+)\]/.exec(pdf.toString('latin1'))!;
      expect(Number(box[1])).toBeCloseTo((width * 72) / dpi - 0.01, 3);
      expect(Number(box[2])).toBeCloseTo((height * 72) / dpi - 0.01, 3);
    },
  );

  it('is A4 for a sheet, and asks viewers not to scale', async () => {
    const text = (await labelPdf({ stock: sheet, dpi: 203, labels: [gasket] })).toString('latin1');
    expect(text).toContain('MediaBox[0 0 595.1900 841.9100]');
    expect(text).toContain('/ViewerPreferences<</PrintScaling/None>>');
  });

  it('has text that can be searched and copied, umlauts and code included', async () => {
    const odd = lotLabel({ code: makeCode('L', 1), title: 'Größe, Łożysko ½', number: 'Ä/Ö ?7' });
    const [first, second] = await textsOf(await labelPdf({ stock: bag, dpi: 203, labels: [gasket, odd] }));
    for (const words of ['L 000847', 'Gasket set, worm carrier, cork', '48-2290', 'packet 1949, sealed · inspect, no limit']) {
      expect(first).toContain(words);
    }
    expect(second).toContain('Größe, Łożysko ½');
    expect(second).toContain('Ä/Ö ?7');
  });

  it('insets each rectangle by a twentieth of a dot', async () => {
    const [content] = contentsOf(await labelPdf({ stock: bag, dpi: 203, labels: [gasket] }));
    const scene = labelScene(gasket, bag, 203);
    const rectangles = content!.match(/^\S+ \S+ \S+ \S+ re$/gm)!;
    expect(rectangles).toHaveLength(scene.rects.length + scene.linear.rects.length + scene.matrix.rects.length);
    for (const rectangle of rectangles) expect(rectangle).toMatch(/^\d+\.05 \d+\.05 \d+\.9 \d+\.9 re$/);
    expect(content).toMatch(/^0\.35467980 0 0 0\.35467980 0 0 cm\n/);
  });

  it('has a table of offsets that lead to its objects', async () => {
    const pdf = await labelPdf({ stock: bag, dpi: 203, labels: [gasket, gasket] });
    const text = pdf.toString('latin1');
    const tableAt = Number(/startxref\n(\d+)\n/.exec(text)![1]);
    const offsets = [...text.slice(tableAt).matchAll(/^(\d{10}) 00000 n $/gm)].map(([, offset]) => Number(offset));
    expect(offsets).toHaveLength(2 + 3 * 5 + 2 * 2);
    offsets.forEach((offset, index) => {
      expect(text.startsWith(`${index + 1} 0 obj\n`, offset)).toBe(true);
    });
  });

  it('is the same file for the same run', async () => {
    const run = { stock: tag, dpi: 203 as const, labels: [casing] };
    expect((await labelPdf(run)).equals(await labelPdf(run))).toBe(true);
  });

  it('lets other requests have their turn during a long run', async () => {
    let turns = 0;
    const turn = () => {
      turns += 1;
      pending = setImmediate(turn);
    };
    let pending = setImmediate(turn);
    await labelPdf({ stock: bag, dpi: 203, labels: Array.from({ length: 200 }, () => gasket) });
    clearImmediate(pending);
    expect(turns).toBeGreaterThan(5);
  });

  it('refuses an empty run and a cell that is not there', async () => {
    await expect(labelPdf({ stock: bag, dpi: 203, labels: [] })).rejects.toMatchObject({ name: 'RangeError' });
    await expect(labelPdf({ stock: sheet, dpi: 300, labels: [gasket], startCell: 25 })).rejects.toThrow('no cell 25');
  });
});

describe('words on labels in the real fonts', () => {
  it('leaves nothing out of the usual labels', () => {
    const usual: [LabelModel, LabelStock][] = [
      [casing, tag],
      [gasket, bag],
      [gasket, sheet],
      [placeLabel({ code: makeCode('P', 312), name: 'R3 B13', path: 'stores, rack 3' }), bag],
      [
        lotLabel({
          code: makeCode('L', 844),
          title: 'Oil seal',
          packet: '1/91',
          warning: 'NOT FOR SERVICE: rubber, past life 1 Jul 2001',
        }),
        bag,
      ],
    ];
    for (const [label, stock] of usual) expect(labelScene(label, stock, 203).shortened).toEqual([]);
  });

  it('sets no letter smaller than 16 dots to the em at 203 dpi', () => {
    const long = 'a very long text that has to shrink as far as it may, and then to be cut, '.repeat(3);
    for (const stock of Object.values(labelStocks)) {
      for (const warning of [undefined, long]) {
        const label: LabelModel = {
          code: makeCode('U', 412),
          title: long,
          subtitle: long,
          corner: long,
          badge: long,
          facts: [long, long],
          footer: [long],
        };
        const scene = labelScene(warning === undefined ? label : { ...label, warning }, stock, 203);
        for (const { size } of scene.texts) expect((size * 203) / scene.dpi).toBeGreaterThan(15.9);
      }
    }
  });

  it('gives all figures of a code one width', () => {
    const widths = [...'0123456789'].map((figure) => measureText(figure, 'figures', 1));
    expect(new Set(widths).size).toBe(1);
    expect(new Set([...'0123456789'].map((figure) => measureText(figure, 'condensed', 1))).size).toBeGreaterThan(1);
  });

  it('measures in proportion to the size', () => {
    expect(measureText('Worm carrier', 'text', 20)).toBeCloseTo(20 * measureText('Worm carrier', 'text', 1), 9);
    expect(measureText('', 'text', 20)).toBe(0);
  });

  it('has the letters of European names in each face', () => {
    for (const font of ['condensed', 'text', 'strong'] as const) {
      expect(glyphsOf('ÄÖÜäöüßÅåØøÆæÉéÈèÇçÑñŁłŻżŠšŽžČčŘřŐőŰűĞğİı¼½¾·×°±–—‘’“”„…€£', font)).not.toContain(0);
    }
  });

  it('writes what the fonts lack in another way, never as a question mark', () => {
    const { glyphs } = fontOf('text');
    expect(glyphsOf('≈ 142', 'text')).toEqual(glyphsOf('~ 142', 'text'));
    expect(glyphsOf('№ 5″', 'text')).toEqual(glyphsOf('No. 5"', 'text'));
    expect(glyphsOf('ǟ', 'text')).toEqual(glyphsOf('a', 'text'));
    expect(glyphsOf('軸', 'text')).toEqual([0]);
    expect(glyphsOf('軸', 'text')).not.toContain(glyphs.get('?'.charCodeAt(0)));
  });
});

describe('symbols', () => {
  it.each([
    ['U00041221', 101],
    ['L100000027', 112],
  ])('encodes %s in Code 128 of %i modules and in a Data Matrix of 14 x 14', (code, modules) => {
    const { linear, matrix } = encodeSymbols(code as ReturnType<typeof makeCode>);
    expect(linear.reduce((sum, width) => sum + width, 0)).toBe(modules);
    expect([matrix.pixx, matrix.pixy, matrix.pixs.length]).toEqual([14, 14, 196]);
    expect(new Set(matrix.pixs)).toEqual(new Set([0, 1]));
  });
});
