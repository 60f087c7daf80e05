/** The fonts of labels: their glyphs, their widths, and how characters that they lack are written instead. */
import { readFileSync } from 'node:fs';
import type { LabelFont, MeasureText } from '@corewright/labels/label-scene';
import { readTrueType, type TrueTypeFont } from './true-type.js';

export const fontFiles = {
  condensed: 'special-gothic-condensed-one-400.ttf',
  text: 'special-gothic-400.ttf',
  strong: 'special-gothic-600.ttf',
} as const;

export type FontFile = keyof typeof fontFiles;

/** In the condensed file the figures of equal width were given these places, so that no layout tables are needed. */
export const equalFiguresStart = 0xe030;

/** A face is a font file, with or without figures of equal width. */
const fileOf: Record<LabelFont, FontFile> = { condensed: 'condensed', figures: 'condensed', text: 'text', strong: 'strong' };

/** Signs that people key and the fonts lack, and what says the same. Never `?`, which on a mark means "cannot be read". */
const substitutes: Record<string, string> = {
  '≈': '~',
  '≤': '<=',
  '≥': '>=',
  '→': '>',
  '←': '<',
  '′': "'",
  '″': '"',
  '№': 'No.',
  '‑': '-',
  '−': '-',
  '\t': ' ',
  '\n': ' ',
  '\u00a0': ' ',
  '\u2009': ' ',
  '\u202f': ' ',
};

const loaded = new Map<FontFile, TrueTypeFont>();

/** Reads the font file on first use and keeps it. */
export function fontOf(file: FontFile): TrueTypeFont {
  const kept = loaded.get(file);
  if (kept !== undefined) return kept;
  const font = readTrueType(readFileSync(new URL(`../../../assets/fonts/${fontFiles[file]}`, import.meta.url)));
  loaded.set(file, font);
  return font;
}

export function fileOfFont(font: LabelFont): FontFile {
  return fileOf[font];
}

/** The glyphs of a text. A letter that neither the font nor a substitute has becomes glyph 0, an empty box: seen, never silently dropped. */
export function glyphsOf(text: string, font: LabelFont): number[] {
  const { glyphs } = fontOf(fileOf[font]);
  const found: number[] = [];
  for (const character of text) {
    const point = character.codePointAt(0)!;
    const isFigure = font === 'figures' && point >= 0x30 && point <= 0x39;
    const glyph = glyphs.get(isFigure ? equalFiguresStart + point - 0x30 : point);
    if (glyph !== undefined) found.push(glyph);
    else found.push(...substituteGlyphs(character, glyphs));
  }
  return found;
}

function substituteGlyphs(character: string, glyphs: ReadonlyMap<number, number>): number[] {
  const substitute = substitutes[character] ?? withoutMarks(character);
  return [...substitute].map((letter) => glyphs.get(letter.codePointAt(0)!) ?? 0);
}

/** The plain letter under accents that the font does not know; other characters stay as they are. */
function withoutMarks(character: string): string {
  return character.normalize('NFKD').replace(/\p{M}/gu, '');
}

/** Width as the PDF will set it: sum of advances, no kerning. */
export const measureText: MeasureText = (text, font, size) => {
  const { advances, unitsPerEm } = fontOf(fileOf[font]);
  let units = 0;
  for (const glyph of glyphsOf(text, font)) units += advances[glyph] ?? 0;
  return (units * size) / unitsPerEm;
};
