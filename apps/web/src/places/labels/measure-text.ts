import type { LabelFont, MeasureText } from '@corewright/labels/label-scene';

const FONTS: Readonly<Record<LabelFont, string>> = {
  condensed: '400 100px "Corewright Condensed"',
  figures: '400 100px "Corewright Condensed"',
  text: '400 100px "Corewright Text"',
  strong: '600 100px "Corewright Text"',
};

/** Measures text with the fonts of this page, once they have come. Figures count as equally wide, as they are printed. */
export async function loadMeasure(): Promise<MeasureText> {
  await Promise.all(Object.values(FONTS).map((font) => document.fonts.load(font)));
  const context = document.createElement('canvas').getContext('2d');
  if (context === null) throw new Error('This browser gives no canvas to measure text with');
  const widthOf = (text: string, font: LabelFont) => {
    context.font = FONTS[font];
    return context.measureText(text).width / 100;
  };
  return (text, font, size) => {
    if (font !== 'figures') return widthOf(text, font) * size;
    return [...text].reduce((sum, sign) => sum + widthOf(/\d/.test(sign) ? '0' : sign, font), 0) * size;
  };
}
