/**
 * The label stocks that are printed on, as data: sizes and where each line stands, in millimetres from the top left corner.
 * Distances are a matter of taste within the rules for symbols (quiet zones, heights, module widths), which tests hold.
 */
import type { PrinterResolution } from './label-scene.js';

export type LabelStockId = 'tag-100x50' | 'label-50x30' | 'sheet-a4-24';

/** One line of text. Sizes are ems in millimetres. */
export interface LineRoom {
  baseline: number;
  size: number;
  sizeMin: number;
}

/** Where the lines below the rule stand. */
export interface Arrangement {
  title: LineRoom;
  /** Baselines and size of the title when it needs two lines; none where there is no room for two. */
  titleInTwo?: { baselines: readonly [number, number]; size: number; subtitle: LineRoom };
  subtitle: LineRoom;
  facts: { baselines: readonly number[]; size: number; sizeMin: number };
  footer: LineRoom;
  /** The black bar of a warning; with two lines of words it grows downwards over the footer. */
  warning?: { top: number; height: number; heightInTwo: number; size: number; sizeMin: number };
  linear: { top: number; height: number };
  matrix: { top: number; moduleDots: Record<PrinterResolution, number> };
}

export interface LabelLayout {
  /** Text stands between these. */
  left: number;
  right: number;
  code: { baseline: number; size: number; checkSize: number };
  corner: { baselines: readonly [number, number]; size: number; sizeMin: number };
  badge: { baseline: number; size: number; sizeMin: number };
  rule: { y: number; thickness: number };
  /** Left end of the bars, without the quiet zone. */
  linearLeft: number;
  linearModuleDots: Record<PrinterResolution, number>;
  plain: Arrangement;
  warned: Arrangement;
  /** For a place or a command without facts and footer: the title takes their room. */
  prominent: Arrangement;
}

/** Cut-outs of a tag, for the proof on the screen; nothing of it is printed. */
export interface TagShape {
  cornerCut: number;
  eyelet: { x: number; y: number; radius: number; holeRadius: number };
}

export interface SheetGrid {
  pageWidth: number;
  pageHeight: number;
  columns: number;
  rows: number;
  left: number;
  top: number;
}

export interface LabelStock {
  id: LabelStockId;
  name: string;
  width: number;
  height: number;
  layout: LabelLayout;
  tag?: TagShape;
  sheet?: SheetGrid;
}

const tagLayout: LabelLayout = {
  left: 18,
  right: 97,
  code: { baseline: 14.2, size: 13.8, checkSize: 10 },
  corner: { baselines: [6, 9], size: 3, sizeMin: 2.4 },
  badge: { baseline: 14.2, size: 8, sizeMin: 4 },
  rule: { y: 17, thickness: 0.38 },
  linearLeft: 18,
  linearModuleDots: { 203: 4, 300: 6 },
  plain: {
    title: { baseline: 22.7, size: 5.6, sizeMin: 4.4 },
    titleInTwo: { baselines: [21.3, 25.3], size: 4, subtitle: { baseline: 28.9, size: 3.2, sizeMin: 2.6 } },
    subtitle: { baseline: 27.8, size: 4.2, sizeMin: 3 },
    facts: { baselines: [22.3, 26.9], size: 3.2, sizeMin: 2.6 },
    footer: { baseline: 46.9, size: 3, sizeMin: 2.5 },
    linear: { top: 31.4, height: 10.6 },
    matrix: { top: 31.4, moduleDots: { 203: 6, 300: 9 } },
  },
  warned: {
    title: { baseline: 22.4, size: 5.2, sizeMin: 4.2 },
    titleInTwo: { baselines: [21, 24.9], size: 3.9, subtitle: { baseline: 28.4, size: 3.2, sizeMin: 2.6 } },
    subtitle: { baseline: 27.2, size: 4, sizeMin: 3 },
    facts: { baselines: [22, 26.4], size: 3.2, sizeMin: 2.6 },
    footer: { baseline: 47.6, size: 2.7, sizeMin: 2.4 },
    warning: { top: 41.4, height: 3.6, heightInTwo: 6.6, size: 2.8, sizeMin: 2.3 },
    linear: { top: 30.6, height: 10 },
    matrix: { top: 31, moduleDots: { 203: 5, 300: 7 } },
  },
  prominent: {
    title: { baseline: 24.8, size: 9, sizeMin: 5 },
    titleInTwo: { baselines: [21.6, 26], size: 4.4, subtitle: { baseline: 29.2, size: 2.8, sizeMin: 2.4 } },
    subtitle: { baseline: 28.8, size: 3.4, sizeMin: 2.6 },
    facts: { baselines: [], size: 3.2, sizeMin: 2.6 },
    footer: { baseline: 46.9, size: 3, sizeMin: 2.5 },
    linear: { top: 31.4, height: 10.6 },
    matrix: { top: 31.6, moduleDots: { 203: 6, 300: 9 } },
  },
};

const bagLayout: LabelLayout = {
  left: 2,
  right: 48,
  code: { baseline: 6.6, size: 6.6, checkSize: 4.8 },
  corner: { baselines: [3.7, 6.4], size: 2.4, sizeMin: 2.1 },
  badge: { baseline: 6.8, size: 3.6, sizeMin: 2.6 },
  rule: { y: 8.1, thickness: 0.25 },
  linearLeft: 3,
  linearModuleDots: { 203: 2, 300: 3 },
  plain: {
    title: { baseline: 12.1, size: 3.8, sizeMin: 3 },
    titleInTwo: { baselines: [11, 13.7], size: 2.8, subtitle: { baseline: 16.4, size: 2.5, sizeMin: 2.1 } },
    subtitle: { baseline: 15.6, size: 3, sizeMin: 2.3 },
    facts: { baselines: [15.6], size: 2.4, sizeMin: 2.1 },
    footer: { baseline: 19, size: 2.4, sizeMin: 2.1 },
    linear: { top: 20.8, height: 6.8 },
    matrix: { top: 20.9, moduleDots: { 203: 4, 300: 6 } },
  },
  warned: {
    title: { baseline: 11.6, size: 3.5, sizeMin: 2.7 },
    subtitle: { baseline: 14.6, size: 2.8, sizeMin: 2.2 },
    facts: { baselines: [14.6], size: 2.3, sizeMin: 2.1 },
    footer: { baseline: 20.1, size: 2.1, sizeMin: 2.1 },
    warning: { top: 15.4, height: 2.7, heightInTwo: 5, size: 2.2, sizeMin: 2 },
    linear: { top: 21.3, height: 6.7 },
    matrix: { top: 21.75, moduleDots: { 203: 4, 300: 6 } },
  },
  prominent: {
    title: { baseline: 14.2, size: 6.8, sizeMin: 3.6 },
    titleInTwo: { baselines: [11.9, 15.3], size: 3.3, subtitle: { baseline: 18.2, size: 2.5, sizeMin: 2.1 } },
    subtitle: { baseline: 18.6, size: 2.8, sizeMin: 2.2 },
    facts: { baselines: [], size: 2.4, sizeMin: 2.1 },
    footer: { baseline: 19, size: 2.4, sizeMin: 2.1 },
    linear: { top: 20.8, height: 6.8 },
    matrix: { top: 20.9, moduleDots: { 203: 4, 300: 6 } },
  },
};

/** Office printers leave about 4 mm of the page blank, so the words keep 5 mm from the cell's sides. */
const cellLayout: LabelLayout = {
  left: 5,
  right: 65,
  code: { baseline: 10.6, size: 8.2, checkSize: 6 },
  corner: { baselines: [7, 10.2], size: 2.7, sizeMin: 2.3 },
  badge: { baseline: 11, size: 4.4, sizeMin: 3 },
  rule: { y: 12.3, thickness: 0.25 },
  linearLeft: 5,
  linearModuleDots: { 203: 3, 300: 4 },
  plain: {
    title: { baseline: 16.7, size: 4.5, sizeMin: 3.6 },
    titleInTwo: { baselines: [15.4, 18.5], size: 3.2, subtitle: { baseline: 21.3, size: 2.8, sizeMin: 2.3 } },
    subtitle: { baseline: 20.3, size: 3.4, sizeMin: 2.6 },
    facts: { baselines: [20.3], size: 2.7, sizeMin: 2.3 },
    footer: { baseline: 23.9, size: 2.6, sizeMin: 2.2 },
    linear: { top: 25.7, height: 6.9 },
    matrix: { top: 25.8, moduleDots: { 203: 4, 300: 6 } },
  },
  warned: {
    title: { baseline: 16.1, size: 4, sizeMin: 3.2 },
    subtitle: { baseline: 19.2, size: 3, sizeMin: 2.4 },
    facts: { baselines: [19.2], size: 2.6, sizeMin: 2.3 },
    footer: { baseline: 25.2, size: 2.3, sizeMin: 2.2 },
    warning: { top: 20.2, height: 3, heightInTwo: 5.6, size: 2.5, sizeMin: 2.1 },
    linear: { top: 26.2, height: 6.9 },
    matrix: { top: 26.9, moduleDots: { 203: 4, 300: 5 } },
  },
  prominent: {
    title: { baseline: 18.8, size: 7.4, sizeMin: 4.2 },
    titleInTwo: { baselines: [16.3, 20.2], size: 3.8, subtitle: { baseline: 23.4, size: 2.8, sizeMin: 2.3 } },
    subtitle: { baseline: 23.3, size: 3.2, sizeMin: 2.5 },
    facts: { baselines: [], size: 2.7, sizeMin: 2.3 },
    footer: { baseline: 23.9, size: 2.6, sizeMin: 2.2 },
    linear: { top: 25.7, height: 6.9 },
    matrix: { top: 25.8, moduleDots: { 203: 4, 300: 6 } },
  },
};

export const labelStocks: Record<LabelStockId, LabelStock> = {
  'tag-100x50': {
    id: 'tag-100x50',
    name: 'Tie-on tag, 100 × 50 mm',
    width: 100,
    height: 50,
    layout: tagLayout,
    tag: { cornerCut: 8, eyelet: { x: 8, y: 25, radius: 4.6, holeRadius: 2.5 } },
  },
  'label-50x30': { id: 'label-50x30', name: 'Bag and box label, 50 × 30 mm', width: 50, height: 30, layout: bagLayout },
  'sheet-a4-24': {
    id: 'sheet-a4-24',
    name: 'A4 sheet of 24, 70 × 37 mm',
    width: 70,
    height: 37,
    layout: cellLayout,
    sheet: { pageWidth: 210, pageHeight: 297, columns: 3, rows: 8, left: 0, top: 0.5 },
  },
};
