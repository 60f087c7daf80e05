import { parseCode } from '@corewright/codes/label-code';
import type { LabelModel } from '@corewright/labels/label-model';
import { type LabelScene, type PlacedSymbol, type PrinterResolution, printerResolutions } from '@corewright/labels/label-scene';
import { sheetCells } from '@corewright/labels/label-sheet';
import { labelStocks } from '@corewright/labels/label-stock';
import { labelPdf, labelScene } from '../../apps/api/src/labels/pdf/label-pdf.js';
import { closeDrawing, cut, drawPages, isBlack, openReader, type Picture, readPicture } from '../support/label-reader.js';
import { labelsOf, loadRows } from './label-load.js';

const tag = labelStocks['tag-100x50'];
const bag = labelStocks['label-50x30'];
const sheet = labelStocks['sheet-a4-24'];

beforeAll(openReader);
afterAll(closeDrawing);

/** Both symbols of a label in the order of their names, each with its symbology identifier (ISO/IEC 15424). */
async function read(picture: Picture): Promise<string[]> {
  const results = await readPicture(picture, 4);
  return results.map(({ format, symbologyIdentifier, text }) => `${format} ${symbologyIdentifier} ${text}`).sort();
}

function bothSymbolsOf({ code }: LabelModel): string[] {
  return [`Code128 ]C0 ${code}`, `DataMatrix ]d1 ${code}`];
}

/** Dots of a symbol's box, quiet zone included, that differ between the picture and the geometry. */
function wrongDots(picture: Picture, { quiet, rects }: PlacedSymbol, left: number, top: number): number {
  const black = new Set<number>();
  for (const { x, y, width, height } of rects) {
    for (let row = y; row < y + height; row += 1)
      for (let column = x; column < x + width; column += 1) black.add(row * 100_000 + column);
  }
  let wrong = 0;
  for (let row = quiet.y; row < quiet.y + quiet.height; row += 1) {
    for (let column = quiet.x; column < quiet.x + quiet.width; column += 1) {
      if (isBlack(picture, left + column, top + row) !== black.has(row * 100_000 + column)) wrong += 1;
    }
  }
  return wrong;
}

function expectDotForDot(picture: Picture, scene: LabelScene, left = 0, top = 0): void {
  expect(wrongDots(picture, scene.linear, left, top)).toBe(0);
  expect(wrongDots(picture, scene.matrix, left, top)).toBe(0);
}

describe('the labels of a mixed load of twenty rows', () => {
  it('has twenty rows of three kinds', () => {
    expect(loadRows).toHaveLength(20);
    expect(loadRows.flat()).toHaveLength(27);
  });

  const rolls = printerResolutions.flatMap((dpi) => [
    { name: 'tags of the units', stock: tag, labels: labelsOf('U'), dpi },
    { name: 'bag labels of lots and unsorted', stock: bag, labels: labelsOf('L', 'X'), dpi },
  ]);

  it.each(rolls)(
    '$name at $dpi dpi are printed dot for dot and read back, text and symbology',
    async ({ stock, labels, dpi }) => {
      const pictures = await drawPages(await labelPdf({ stock, dpi, labels }), dpi);
      expect(pictures).toHaveLength(labels.length);
      for (const [index, model] of labels.entries()) {
        const picture = pictures[index]!;
        const scene = labelScene(model, stock, dpi);
        expect([picture.width, picture.height]).toEqual([scene.width, scene.height]);
        expectDotForDot(picture, scene);
        expect(await read(picture)).toEqual(bothSymbolsOf(model));
      }
    },
  );

  it('an A4 sheet that begins at cell 8 is read back cell by cell', async () => {
    const labels = loadRows.flat();
    const pictures = await drawPages(await labelPdf({ stock: sheet, dpi: 203, labels, startCell: 8 }), 300);
    expect(pictures.map(({ width, height }) => [width, height])).toEqual([
      [2480, 3508],
      [2480, 3508],
    ]);
    const [cellWidth, cellHeight] = [827, 437];
    const cells = sheetCells(sheet.sheet!, sheet.width, sheet.height, labels.length, 8);
    for (const [index, { page, x, y }] of cells.entries()) {
      const model = labels[index]!;
      expectDotForDot(pictures[page]!, labelScene(model, sheet, 300), x, y);
      expect(await read(cut(pictures[page]!, x, y, cellWidth, cellHeight))).toEqual(bothSymbolsOf(model));
    }
    // Cells 1 to 6 are the first two rows: nothing may be printed over what was used up.
    const used = cut(pictures[0]!, 0, 0, 2480, 6 + 2 * cellHeight);
    expect(used.grey.every((shade) => shade === 255)).toBe(true);
    expect(await read(cut(pictures[0]!, 0, 6 + 2 * cellHeight, cellWidth, cellHeight))).toEqual([]);
  });
});

const long = process.env.CW_LONG !== undefined;
const trialCount = long ? 20_000 : 2_000;
const seed = long ? (Date.now() & 0x7fffffff) | 1 : 20261124;

/** xorshift32: a seed that was printed plays the same damage again. */
function randomIntegers(start: number): (below: number) => number {
  let state = start;
  return (below) => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    state >>>= 0;
    return state % below;
  };
}

/** Oil on a corner: a round blot, black or bleached, whose middle lies near a corner of the piece. */
function blot(picture: Picture, random: (below: number) => number): void {
  const middleX = random(2) === 0 ? random(picture.width >> 1) : picture.width - 1 - random(picture.width >> 1);
  const middleY = random(2) === 0 ? random(picture.height >> 1) : picture.height - 1 - random(picture.height >> 1);
  const radius = Math.max(3, (picture.height * (8 + random(25))) / 100);
  const shade = random(2) * 255;
  for (let y = 0; y < picture.height; y += 1) {
    for (let x = 0; x < picture.width; x += 1) {
      if ((x - middleX) ** 2 + (y - middleY) ** 2 < radius * radius) picture.grey[y * picture.width + x] = shade;
    }
  }
}

/** A dirty or dead stretch of the print head, or a scratch: a straight streak one to seven dots wide. */
function streak(picture: Picture, random: (below: number) => number): void {
  const shade = random(2) * 255;
  const thick = 1 + random(7);
  const [from, to] = [random(picture.width), random(picture.width)];
  for (let y = 0; y < picture.height; y += 1) {
    const at = Math.round(from + ((to - from) * y) / picture.height);
    for (let x = Math.max(0, at); x < Math.min(picture.width, at + thick); x += 1) picture.grey[y * picture.width + x] = shade;
  }
}

/** Single dots that did not take: 2 to 12 in a hundred. */
function speckle(picture: Picture, random: (below: number) => number): void {
  const share = 2 + random(11);
  picture.grey.forEach((_, dot) => {
    if (random(100) < share) picture.grey[dot] = random(2) * 255;
  });
}

const damages = [blot, streak, speckle];

describe('damaged symbols', () => {
  it(`never give a wrong code that is accepted, in ${trialCount} trials (seed ${seed})`, async () => {
    const labels = [...labelsOf('L', 'X'), ...labelsOf('U')];
    const dpi: PrinterResolution = 203;
    const pictures = await drawPages(await labelPdf({ stock: bag, dpi, labels }), dpi);
    const random = randomIntegers(seed);
    const count = { right: 0, unread: 0, refused: 0 };
    for (let trial = 0; trial < trialCount; trial += 1) {
      const index = random(labels.length);
      const model = labels[index]!;
      const scene = labelScene(model, bag, dpi);
      const { x, y, width, height } = (trial % 2 === 0 ? scene.matrix : scene.linear).quiet;
      const piece = cut(pictures[index]!, x - 4, y - 4, width + 8, height + 8);
      for (let hits = 1 + random(3); hits > 0; hits -= 1) damages[random(damages.length)]!(piece, random);
      for (const { text } of await readPicture(piece, 2)) {
        const parsed = parseCode(text);
        if (parsed.ok) expect({ trial, code: parsed.value.code }).toEqual({ trial, code: model.code });
        count[parsed.ok ? 'right' : 'refused'] += 1;
      }
      count.unread = trial + 1 - count.right - count.refused;
    }
    if (long) console.info(`damaged symbols, seed ${seed}: ${JSON.stringify(count)}`);
    // The trials must be neither harmless nor hopeless, or they would show nothing.
    expect(count.right).toBeGreaterThan(trialCount / 5);
    expect(count.unread).toBeGreaterThan(trialCount / 20);
  }, 600_000);
});
