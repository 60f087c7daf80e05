/**
 * A run of labels as a PDF that a label printer or an office printer prints dot for dot.
 *
 * Written out by hand instead of through a PDF library: the only operators are filled rectangles and text, and a library's
 * general drawing costs more than encoding the symbols does.
 */
import { deflateSync } from 'node:zlib';
import { layoutLabel } from '@corewright/labels/label-layout';
import type { LabelModel } from '@corewright/labels/label-model';
import { type DotRect, dots, type LabelScene, type PrinterResolution, type SceneText } from '@corewright/labels/label-scene';
import { sheetCells, sheetResolution } from '@corewright/labels/label-sheet';
import type { LabelStock } from '@corewright/labels/label-stock';
import { type FontFile, fileOfFont, hexOf, measureText } from './label-fonts.js';
import { fontObjects } from './pdf-font.js';
import { encodeSymbols } from './symbols.js';

export interface LabelRun {
  stock: LabelStock;
  /** The printer's resolution; sheets are laid out on their own grid and take no notice of it. */
  dpi: PrinterResolution;
  labels: readonly LabelModel[];
  /** First cell to print on a sheet, from 1; the cells before it are used up. Rolls take no notice of it. */
  startCell?: number;
}

/** Encodes and lays out one label with the fonts that the PDF is set in; the proof on the screen is drawn from the same scene. */
export function labelScene(model: LabelModel, stock: LabelStock, dpi: PrinterResolution): LabelScene {
  const resolution = stock.sheet === undefined ? dpi : sheetResolution;
  return layoutLabel(model, encodeSymbols(model.code), stock, resolution, measureText);
}

/** After so many labels other requests get their turn: a run of a thousand takes most of a second. */
const labelsAtATime = 16;

/**
 * One page a label on rolls and tags, or sheets of cells.
 * @throws RangeError for an empty run or a start cell that the sheet does not have: the caller checks what people key.
 */
export async function labelPdf(run: LabelRun): Promise<Buffer> {
  if (run.labels.length === 0) throw new RangeError('A run needs at least one label');
  const pages = run.stock.sheet === undefined ? await rollPages(run) : await sheetPages(run);
  return writePdf(pages);
}

interface Page {
  /** Whole dots. */
  width: number;
  height: number;
  dpi: PrinterResolution;
  /** The stream object of its operators, compressed. */
  content: Buffer;
}

async function rollPages({ stock, dpi, labels }: LabelRun): Promise<Page[]> {
  const pages: Page[] = [];
  for (const model of labels) {
    if (pages.length % labelsAtATime === labelsAtATime - 1) await otherRequests();
    const scene = labelScene(model, stock, dpi);
    pages.push({ width: scene.width, height: scene.height, dpi, content: pageContent(dpi, drawScene(scene, 0, scene.height)) });
  }
  return pages;
}

async function sheetPages({ stock, labels, startCell = 1 }: LabelRun): Promise<Page[]> {
  const grid = stock.sheet!;
  const width = dots(grid.pageWidth, sheetResolution);
  const height = dots(grid.pageHeight, sheetResolution);
  const operators: string[] = [];
  const cells = sheetCells(grid, stock.width, stock.height, labels.length, startCell);
  for (const [index, cell] of cells.entries()) {
    if (index % labelsAtATime === labelsAtATime - 1) await otherRequests();
    const scene = labelScene(labels[index]!, stock, sheetResolution);
    operators[cell.page] = (operators[cell.page] ?? '') + drawScene(scene, cell.x, height - cell.y);
  }
  return operators.map((page) => ({ width, height, dpi: sheetResolution, content: pageContent(sheetResolution, page) }));
}

function otherRequests(): Promise<void> {
  return new Promise((resolve) => {
    setImmediate(resolve);
  });
}

/** Operators of one label in dots, `left` from the left and its upper edge `top` up from the bottom: y grows upwards in a PDF. */
function drawScene({ rects, linear, matrix, texts }: LabelScene, left: number, top: number): string {
  return drawInk({ rects: [...rects, ...linear.rects, ...matrix.rects], texts }, left, top);
}

function drawInk({ rects, texts }: Pick<LabelScene, 'rects' | 'texts'>, left: number, top: number): string {
  let operators = '0 g\n';
  for (const rect of rects) operators += rectangle(rect, left, top);
  operators += 'f\nBT\n';
  let ink: SceneText['ink'] = 'black';
  for (const text of texts) {
    if (text.ink !== ink) operators += text.ink === 'white' ? '1 g\n' : '0 g\n';
    ink = text.ink;
    operators += textLine(text, left, top);
  }
  return `${operators}ET\n`;
}

/** Pages of words and rules, as on letter paper or a roll; no symbols. */
export type PaperPage = Pick<LabelScene, 'dpi' | 'width' | 'height' | 'rects' | 'texts'>;

export function paperPdf(pages: readonly PaperPage[]): Buffer {
  return writePdf(
    pages.map((page) => ({
      width: page.width,
      height: page.height,
      dpi: page.dpi,
      content: pageContent(page.dpi, drawInk(page, 0, page.height)),
    })),
  );
}

/** Smaller by 0.05 dot on every side: a renderer that blackens each dot it touches would else widen every bar by one. */
function rectangle({ x, y, width, height }: DotRect, left: number, top: number): string {
  return `${left + x}.05 ${top - y - height}.05 ${width - 1}.9 ${height - 1}.9 re\n`;
}

const fontNames: Record<FontFile, string> = { condensed: 'F1', text: 'F2', strong: 'F3' };
const fontsInOrder: FontFile[] = ['condensed', 'text', 'strong'];

function textLine({ text, font, size, x, baseline }: SceneText, left: number, top: number): string {
  const place = `${(left + x).toFixed(2)} ${top - baseline}`;
  return `/${fontNames[fileOfFont(font)]} ${size.toFixed(2)} Tf 1 0 0 1 ${place} Tm <${hexOf(text, font)}> Tj\n`;
}

const pointsToTheInch = 72;
/** Taken off the page's size, so that rounding up to whole dots never adds one. Points. */
const pageTrim = 0.01;

function writePdf(pages: Page[]): Buffer {
  const fontsFirst = 3;
  const fonts = fontsInOrder.map(fontObjects);
  const bodies: (string | Buffer)[] = [];
  const fontNumbers: string[] = [];
  let next = fontsFirst;
  fonts.forEach((font, index) => {
    fontNumbers.push(`/${fontNames[fontsInOrder[index]!]} ${next} 0 R`);
    bodies.push(...font.bodies(next));
    next += font.count;
  });
  const pagesFirst = next;
  for (const page of pages) {
    bodies.push(pageDictionary(page, next + 1, fontNumbers.join('')), page.content);
    next += 2;
  }
  const kids = pages.map((_, index) => `${pagesFirst + 2 * index} 0 R`).join(' ');
  const catalog = '<</Type/Catalog/Pages 2 0 R/ViewerPreferences<</PrintScaling/None>>>>';
  return assemble([catalog, `<</Type/Pages/Count ${pages.length}/Kids[${kids}]>>`, ...bodies]);
}

function pageDictionary({ width, height, dpi }: Page, contentNumber: number, fonts: string): string {
  const points = (length: number) => ((length * pointsToTheInch) / dpi - pageTrim).toFixed(4);
  return (
    `<</Type/Page/Parent 2 0 R/MediaBox[0 0 ${points(width)} ${points(height)}]` +
    `/Resources<</Font<<${fonts}>>>>/Contents ${contentNumber} 0 R>>`
  );
}

/** Fast rather than small: bars repeat, and the compressor's tables would cost more to set up than they save on so short a text. */
const packing = { level: 1, windowBits: 12, memLevel: 5 };

/** Everything is said in dots; one matrix turns them into points. */
function pageContent(dpi: PrinterResolution, operators: string): Buffer {
  const scale = (pointsToTheInch / dpi).toFixed(8);
  const packed = deflateSync(Buffer.from(`${scale} 0 0 ${scale} 0 0 cm\n${operators}`, 'latin1'), packing);
  return Buffer.concat([
    Buffer.from(`<</Length ${packed.length}/Filter/FlateDecode>>stream\n`, 'latin1'),
    packed,
    Buffer.from('\nendstream', 'latin1'),
  ]);
}

/** Header, numbered objects, table of their offsets, trailer (ISO 32000-1, 7.5). The bytes of the second line mark the file as binary. */
function assemble(bodies: (string | Buffer)[]): Buffer {
  const parts: Buffer[] = [];
  let length = 0;
  const add = (part: string | Buffer) => {
    const bytes = typeof part === 'string' ? Buffer.from(part, 'latin1') : part;
    parts.push(bytes);
    length += bytes.length;
  };
  add('%PDF-1.7\n%\u00e2\u00e3\u00cf\u00d3\n');
  let table = `xref\n0 ${bodies.length + 1}\n0000000000 65535 f \n`;
  bodies.forEach((body, index) => {
    table += `${String(length).padStart(10, '0')} 00000 n \n`;
    add(`${index + 1} 0 obj\n`);
    add(body);
    add('\nendobj\n');
  });
  const tableAt = length;
  add(`${table}trailer\n<</Size ${bodies.length + 1}/Root 1 0 R>>\nstartxref\n${tableAt}\n%%EOF\n`);
  return Buffer.concat(parts);
}
