/** Words and symbols to a label in printer dots. */
import { codeParts } from '@corewright/codes/label-code';
import { type FittedText, fitLine, fitLines, sizeFor } from './fit-text.js';
import type { LabelModel } from './label-model.js';
import {
  type DotRect,
  dots,
  type LabelFont,
  type LabelPart,
  type LabelScene,
  type MeasureText,
  type PlacedSymbol,
  type PrinterResolution,
  type SceneText,
} from './label-scene.js';
import type { Arrangement, LabelStock, LineRoom } from './label-stock.js';
import {
  linearModules,
  linearQuietModules,
  matrixQuietModules,
  placeLinear,
  placeMatrix,
  type SymbolData,
} from './symbol-rects.js';

/** Least module widths in dots that scanners are sure of, and least height of bars: of the width with quiet zones, and in millimetres. */
export const linearModuleDotsMin: Record<PrinterResolution, number> = { 203: 2, 300: 3 };
export const linearHeightShareMin = 0.15;
export const linearHeightMin = 6.5;

/** What a label is drawn with; kept together for the functions below. */
interface Drawing {
  stock: LabelStock;
  dpi: PrinterResolution;
  arrangement: Arrangement;
  measure: MeasureText;
  texts: SceneText[];
  rects: DotRect[];
  shortened: LabelPart[];
}

/**
 * Lays out one label. Text shrinks to the least size that is read, then wraps where there is room for two lines, then ends in an
 * ellipsis and is named in `shortened`; it never comes into the quiet zone of a symbol.
 * @param dpi the printer's true resolution; sheets for office printers are laid out at 300.
 * @throws Error when the symbol is too long for the stock at the least module width: a bug, for no code of ours is.
 */
export function layoutLabel(
  model: LabelModel,
  symbols: SymbolData,
  stock: LabelStock,
  dpi: PrinterResolution,
  measure: MeasureText,
): LabelScene {
  const { plain, warned, prominent } = stock.layout;
  const wordsBelow = (model.facts?.length ?? 0) + (model.footer?.length ?? 0) > 0;
  const standing = model.prominent === true && !wordsBelow ? prominent : plain;
  const arrangement = model.warning === undefined ? standing : warned;
  const drawing: Drawing = { stock, dpi, arrangement, measure, texts: [], rects: [], shortened: [] };
  const matrix = layMatrix(drawing, symbols);
  const linear = layLinear(drawing, symbols, matrix);
  layHead(drawing, model);
  layBody(drawing, model);
  const linesOfWarning = layWarning(drawing, model);
  layFooter(drawing, model, linesOfWarning);
  return {
    dpi,
    width: dots(stock.width, dpi),
    height: dots(stock.height, dpi),
    linear,
    matrix,
    rects: drawing.rects,
    texts: drawing.texts,
    shortened: drawing.shortened,
  };
}

function layMatrix({ stock, dpi, arrangement }: Drawing, { matrix }: SymbolData): PlacedSymbol {
  const moduleDots = arrangement.matrix.moduleDots[dpi];
  const left = dots(stock.layout.right, dpi) - (matrix.pixx + matrixQuietModules) * moduleDots;
  return placeMatrix(matrix, moduleDots, left, dots(arrangement.matrix.top, dpi));
}

/** The widest module that fits beside the matrix and is not too wide for the height; a longer code gets a narrower one. */
function layLinear({ stock, dpi, arrangement }: Drawing, { linear }: SymbolData, matrix: PlacedSymbol): PlacedSymbol {
  const left = dots(stock.layout.linearLeft, dpi);
  const top = dots(arrangement.linear.top, dpi);
  const height = dots(arrangement.linear.height, dpi);
  const modules = linearModules(linear);
  for (let moduleDots = stock.layout.linearModuleDots[dpi]; moduleDots >= linearModuleDotsMin[dpi]; moduleDots -= 1) {
    const widthWithQuiet = (modules + 2 * linearQuietModules) * moduleDots;
    const quietRight = left + (modules + linearQuietModules) * moduleDots;
    if (quietRight <= matrix.quiet.x && height >= linearHeightShareMin * widthWithQuiet) {
      return placeLinear(linear, moduleDots, left, top, height);
    }
  }
  throw new Error(`A symbol of ${modules} modules does not fit on ${stock.name} at ${dpi} dpi`);
}

/** The code in large print with its check digits stepped back in size, the grade, the corner note and the rule. */
function layHead(drawing: Drawing, model: LabelModel): void {
  const { dpi, measure, stock } = drawing;
  const { left, right, code, corner, badge, rule } = stock.layout;
  const { kind, digits, check } = codeParts(model.code);
  const words = `${kind} ${digits}`;
  const gap = dots(code.size * 0.18, dpi);
  const widthOf = (scale: number) =>
    measure(words, 'figures', scale * mm(code.size, dpi)) + gap + measure(check, 'figures', scale * mm(code.checkSize, dpi));
  const room = dots(right, dpi) - dots(left, dpi);
  // A long code may take four fifths of the width; the rest is for the grade and the corner note.
  const scale = Math.min(1, (0.8 * room) / widthOf(1));
  const baseline = dots(code.baseline, dpi);
  const wordsText = place(drawing, words, 'figures', scale * mm(code.size, dpi), dots(left, dpi), baseline);
  const checkText = place(
    drawing,
    check,
    'figures',
    scale * mm(code.checkSize, dpi),
    wordsText.x + wordsText.width + gap,
    baseline,
  );
  const free = dots(right, dpi) - (checkText.x + checkText.width) - dots(2, dpi);
  layCorner(drawing, model, corner, free);
  if (model.badge !== undefined) {
    const fitted = fitLine(model.badge, { font: 'condensed', ...inDots(badge, dpi), width: free }, measure);
    placeRight(drawing, 'badge', fitted, 'condensed', [badge.baseline]);
  }
  drawing.rects.push({
    x: dots(left, dpi),
    y: dots(rule.y, dpi),
    width: room,
    height: Math.max(2, dots(rule.thickness, dpi)),
  });
}

function layCorner(drawing: Drawing, model: LabelModel, corner: LabelStock['layout']['corner'], width: number): void {
  if (model.corner === undefined) return;
  const room = { font: 'text' as const, ...inDots(corner, drawing.dpi), width };
  const size = sizeFor(model.corner, room, drawing.measure);
  const linesMax = model.badge === undefined ? 2 : 1;
  const fitted =
    size === null ? fitLines(model.corner, room, linesMax, drawing.measure) : fitLine(model.corner, room, drawing.measure);
  placeRight(drawing, 'corner', fitted, 'text', corner.baselines);
}

/** Titles on the left, facts on the right; a title of two lines pushes a lone fact down beside the subtitle. */
function layBody(drawing: Drawing, model: LabelModel): void {
  const { dpi, measure, arrangement } = drawing;
  const { left, right } = sides(drawing);
  const { title, subtitle, titleInTwo } = arrangement;
  const twoColumns = arrangement.facts.baselines.length > 1;
  const titleRoom = (width: number) => ({ font: 'condensed' as const, ...inDots(title, dpi), width });
  const isLong = (width: number) => titleInTwo !== undefined && sizeFor(model.title, titleRoom(width), measure) === null;

  // Where the only fact stands beside the subtitle, the title has the whole width and decides first.
  const pushed = !twoColumns && titleInTwo !== undefined && isLong(right - left) ? titleInTwo.subtitle : undefined;
  const ends = layFacts(drawing, model, pushed?.baseline);
  const titleWidth = (twoColumns ? ends[0] : right) - left;
  if (titleInTwo === undefined || !isLong(titleWidth)) {
    placeLeft(drawing, 'title', fitLine(model.title, titleRoom(titleWidth), measure), [title.baseline]);
    laySubtitle(drawing, model.subtitle, subtitle, ends[1] - left);
    return;
  }
  const size = mm(titleInTwo.size, dpi);
  const width = (twoColumns ? Math.min(...ends) : right) - left;
  const fitted = fitLines(model.title, { font: 'condensed', size, sizeMin: size, width }, 2, measure);
  placeLeft(drawing, 'title', fitted, titleInTwo.baselines);
  laySubtitle(drawing, model.subtitle, titleInTwo.subtitle, ends[1] - left);
}

/**
 * Right-hand facts. A fact may take what the words on its left leave of the line, and at least two fifths.
 * @returns where the words beside the title and beside the subtitle must end, in dots.
 */
function layFacts(drawing: Drawing, model: LabelModel, pushedBaseline: number | undefined): [number, number] {
  const { dpi, measure, arrangement } = drawing;
  const { left, right } = sides(drawing);
  const gap = dots(2, dpi);
  const { baselines } = arrangement.facts;
  const lines = [arrangement.title, arrangement.subtitle];
  const words = [model.title, model.subtitle ?? ''];
  const ends: [number, number] = [right, right];
  factsOf(model, baselines.length).beside.forEach((fact, index) => {
    // A lone fact stands beside the subtitle, the first of two beside the title.
    const row = baselines.length === 1 ? 1 : index;
    const beside = measure(words[row]!, 'condensed', mm(lines[row]!.size, dpi));
    const width = right - left - Math.min(beside + gap, 0.58 * (right - left));
    const fitted = fitLine(fact, { font: 'text', ...inDots(arrangement.facts, dpi), width }, measure);
    placeRight(drawing, 'facts', fitted, 'text', [pushedBaseline ?? baselines[index]!]);
    ends[row] = drawing.texts.at(-1)!.x - gap;
  });
  return ends;
}

/** The last facts (the owner among them) stand on the right, as many as there is room for; those before them go to the footer. */
function factsOf({ facts = [] }: LabelModel, room: number): { beside: readonly string[]; below: readonly string[] } {
  const split = Math.max(0, facts.length - room);
  return { beside: facts.slice(split), below: facts.slice(0, split) };
}

function sides({ stock, dpi }: Drawing): { left: number; right: number } {
  return { left: dots(stock.layout.left, dpi), right: dots(stock.layout.right, dpi) };
}

function laySubtitle(drawing: Drawing, subtitle: string | undefined, line: LineRoom, width: number): void {
  if (subtitle === undefined) return;
  const room = { font: 'condensed' as const, ...inDots(line, drawing.dpi), width };
  placeLeft(drawing, 'subtitle', fitLine(subtitle, room, drawing.measure), [line.baseline]);
}

/** The black bar; returns how many lines of words it holds. */
function layWarning(drawing: Drawing, model: LabelModel): number {
  const { stock, dpi, measure, arrangement } = drawing;
  const { warning } = arrangement;
  if (model.warning === undefined || warning === undefined) return 0;
  const left = dots(stock.layout.left, dpi);
  const width = dots(stock.layout.right, dpi) - left;
  const padding = dots(0.8, dpi);
  const room = { font: 'strong' as const, ...inDots(warning, dpi), width: width - 2 * padding };
  const oneLine = sizeFor(model.warning, room, measure) !== null;
  const fitted = oneLine ? fitLine(model.warning, room, measure) : fitLines(model.warning, room, 2, measure);
  if (fitted.shortened) drawing.shortened.push('warning');
  const top = dots(warning.top, dpi);
  const height = dots(oneLine ? warning.height : warning.heightInTwo, dpi);
  drawing.rects.push({ x: left, y: top, width, height });
  const pitch = fitted.size * 1.12;
  // Capitals are about 0.71 of the em high; the block of lines is centred on the bar by them.
  const first = top + (height - (fitted.lines.length - 1) * pitch + 0.71 * fitted.size) / 2;
  fitted.lines.forEach((line, index) => {
    place(drawing, line, 'strong', fitted.size, left + padding, Math.round(first + index * pitch), 'white');
  });
  return fitted.lines.length;
}

function layFooter(drawing: Drawing, model: LabelModel, linesOfWarning: number): void {
  const { stock, dpi, measure, arrangement } = drawing;
  const words = [...factsOf(model, arrangement.facts.baselines.length).below, ...(model.footer ?? [])].join(' · ');
  if (words === '') return;
  if (linesOfWarning > 1) {
    drawing.shortened.push('footer');
    return;
  }
  const width = dots(stock.layout.right, dpi) - dots(stock.layout.left, dpi);
  const room = { font: 'text' as const, ...inDots(arrangement.footer, dpi), width };
  placeLeft(drawing, 'footer', fitLine(words, room, measure), [arrangement.footer.baseline], 'text');
}

function placeLeft(
  drawing: Drawing,
  part: LabelPart,
  fitted: FittedText,
  baselines: readonly number[],
  font: LabelFont = 'condensed',
): void {
  if (fitted.shortened) drawing.shortened.push(part);
  const left = dots(drawing.stock.layout.left, drawing.dpi);
  fitted.lines.forEach((line, index) => {
    place(drawing, line, font, fitted.size, left, dots(baselines[index]!, drawing.dpi));
  });
}

function placeRight(drawing: Drawing, part: LabelPart, fitted: FittedText, font: LabelFont, baselines: readonly number[]): void {
  if (fitted.shortened) drawing.shortened.push(part);
  const right = dots(drawing.stock.layout.right, drawing.dpi);
  fitted.lines.forEach((line, index) => {
    const width = drawing.measure(line, font, fitted.size);
    place(drawing, line, font, fitted.size, right - width, dots(baselines[index]!, drawing.dpi));
  });
}

function place(
  { texts, measure }: Drawing,
  text: string,
  font: LabelFont,
  size: number,
  x: number,
  baseline: number,
  ink: SceneText['ink'] = 'black',
): SceneText {
  const placed: SceneText = { text, font, size, x, baseline, width: measure(text, font, size), ink };
  texts.push(placed);
  return placed;
}

/** Millimetres to dots without rounding, for sizes of type. */
function mm(millimetres: number, dpi: PrinterResolution): number {
  return (millimetres * dpi) / 25.4;
}

function inDots({ size, sizeMin }: { size: number; sizeMin: number }, dpi: PrinterResolution): { size: number; sizeMin: number } {
  return { size: mm(size, dpi), sizeMin: mm(sizeMin, dpi) };
}
