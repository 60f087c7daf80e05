/**
 * What a finished label is: black rectangles and lines of text, in printer dots from the top left corner.
 * The PDF and the proof on the screen are both drawn from it, so they cannot differ.
 */

/** Dots to the inch of the printers that are served. 203 is not eight dots to the millimetre. */
export type PrinterResolution = 203 | 300;

export const printerResolutions: readonly PrinterResolution[] = [203, 300];

/** `figures` is the condensed face with all figures equally wide, so that codes stand under one another. */
export type LabelFont = 'condensed' | 'figures' | 'text' | 'strong';

/** Width of a text set in a font at a size, in the unit of the size. It must grow in proportion to the size. */
export type MeasureText = (text: string, font: LabelFont, size: number) => number;

/** Whole dots; y grows downwards. */
export interface DotRect {
  x: number;
  y: number;
  width: number;
  height: number;
}

export interface SceneText {
  text: string;
  font: LabelFont;
  /** Em in dots. */
  size: number;
  /** Left end, in dots, whichever side the text was aligned to. */
  x: number;
  /** Baseline, in dots from the top. */
  baseline: number;
  /** Measured width in dots. */
  width: number;
  ink: 'black' | 'white';
}

export interface PlacedSymbol {
  /** The modules themselves. */
  box: DotRect;
  /** With the quiet zone round it, where nothing may be printed. */
  quiet: DotRect;
  /** Width of one module (X dimension) in dots. */
  moduleDots: number;
  rects: DotRect[];
}

/** The parts of a label that hold a person's words. */
export type LabelPart = 'corner' | 'badge' | 'title' | 'subtitle' | 'facts' | 'footer' | 'warning';

export interface LabelScene {
  dpi: PrinterResolution;
  width: number;
  height: number;
  linear: PlacedSymbol;
  matrix: PlacedSymbol;
  /** Rules and the bar behind a warning. */
  rects: DotRect[];
  texts: SceneText[];
  /** Parts whose words did not all find room, for the person who prints to be told. */
  shortened: LabelPart[];
}

const millimetresToTheInch = 25.4;

/** Millimetres to whole dots, to the nearest. */
export function dots(millimetres: number, dpi: PrinterResolution): number {
  return Math.round((millimetres * dpi) / millimetresToTheInch);
}

/** Ink of a line of these fonts reaches no further above and below its baseline than this share of its em (head table of the fonts). */
export const ascentShare = 0.94;
export const descentShare = 0.28;

/** The box that the ink of a text stays within, in dots. */
export function textBox(text: SceneText): DotRect {
  return {
    x: text.x,
    y: text.baseline - ascentShare * text.size,
    width: text.width,
    height: (ascentShare + descentShare) * text.size,
  };
}
