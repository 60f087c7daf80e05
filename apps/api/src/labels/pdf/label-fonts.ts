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

/** How one character is set in a face. */
interface SetCharacter {
  glyphs: readonly number[];
  /** The glyphs as a PDF shows them, four hexadecimal digits each. */
  hex: string;
  /** Width in font units. */
  advance: number;
}

const setCharacters: Record<LabelFont, Map<string, SetCharacter>> = {
  condensed: new Map(),
  figures: new Map(),
  text: new Map(),
  strong: new Map(),
};

/** The glyphs of a text. A letter that neither the font nor a substitute has becomes glyph 0, an empty box: seen, never silently dropped. */
export function glyphsOf(text: string, font: LabelFont): number[] {
  return [...text].flatMap((character) => setCharacter(character, font).glyphs);
}

/** The text as the operand of a PDF's show operator, without its angle brackets. */
export function hexOf(text: string, font: LabelFont): string {
  let hex = '';
  for (const character of text) hex += setCharacter(character, font).hex;
  return hex;
}

/** Width as the PDF will set it: sum of advances, no kerning. */
export const measureText: MeasureText = (text, font, size) => {
  let units = 0;
  for (const character of text) units += setCharacter(character, font).advance;
  return (units * size) / fontOf(fileOf[font]).unitsPerEm;
};

/** Looked up once: a run of labels sets the same few letters tens of thousands of times. */
function setCharacter(character: string, font: LabelFont): SetCharacter {
  const known = setCharacters[font].get(character);
  if (known !== undefined) return known;
  const { advances } = fontOf(fileOf[font]);
  const glyphs = findGlyphs(character, font);
  const made = {
    glyphs,
    hex: glyphs.map(hex4).join(''),
    advance: glyphs.reduce((sum, glyph) => sum + (advances[glyph] ?? 0), 0),
  };
  setCharacters[font].set(character, made);
  return made;
}

function findGlyphs(character: string, font: LabelFont): number[] {
  const { glyphs } = fontOf(fileOf[font]);
  const point = character.codePointAt(0)!;
  const isFigure = font === 'figures' && point >= 0x30 && point <= 0x39;
  const glyph = glyphs.get(isFigure ? equalFiguresStart + point - 0x30 : point);
  if (glyph !== undefined) return [glyph];
  const substitute = substitutes[character] ?? withoutMarks(character);
  return [...substitute].map((letter) => glyphs.get(letter.codePointAt(0)!) ?? 0);
}

/** The plain letter under accents that the font does not know; other characters stay as they are. */
function withoutMarks(character: string): string {
  return character.normalize('NFKD').replace(/\p{M}/gu, '');
}

/** A glyph or character as four hexadecimal digits. */
export function hex4(value: number): string {
  return value.toString(16).padStart(4, '0');
}
