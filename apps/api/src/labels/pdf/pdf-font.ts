/** A TrueType font as objects of a PDF (ISO 32000-1, 9.7 composite fonts): whole, embedded, its text can be searched and copied. */
import { deflateSync } from 'node:zlib';
import { equalFiguresStart, type FontFile, fontFiles, fontOf, hex4 } from './label-fonts.js';
import type { TrueTypeFont } from './true-type.js';

/** Bodies of the five objects of a font; `first` is the number that the first of them gets. */
export interface FontObjects {
  count: number;
  bodies(first: number): (string | Buffer)[];
}

const kept = new Map<FontFile, FontObjects>();

/** Prepared once: compressing the font for each run would cost more than the run. */
export function fontObjects(file: FontFile): FontObjects {
  const known = kept.get(file);
  if (known !== undefined) return known;
  const made = prepare(fontOf(file), fontFiles[file].replace('.ttf', ''));
  kept.set(file, made);
  return made;
}

function prepare(font: TrueTypeFont, fileName: string): FontObjects {
  const name = fileName.replaceAll('-', '');
  const scale = 1000 / font.unitsPerEm;
  const program = streamBody(font.data, `/Length1 ${font.data.length}`);
  const toUnicode = streamBody(Buffer.from(unicodeMap(font), 'latin1'));
  const widths = font.advances.map((advance) => Math.round(advance * scale)).join(' ');
  const box = font.box.map((side) => Math.round(side * scale)).join(' ');
  return {
    count: 5,
    bodies: (first) => [
      `<</Type/Font/Subtype/Type0/BaseFont/${name}/Encoding/Identity-H/DescendantFonts[${first + 1} 0 R]/ToUnicode ${first + 4} 0 R>>`,
      `<</Type/Font/Subtype/CIDFontType2/BaseFont/${name}/CIDSystemInfo<</Registry(Adobe)/Ordering(Identity)/Supplement 0>>` +
        `/FontDescriptor ${first + 2} 0 R/CIDToGIDMap/Identity/W[0[${widths}]]>>`,
      // Flags 4: symbolic, for glyphs are named by number. StemV is not in the font and only guides substitutes.
      `<</Type/FontDescriptor/FontName/${name}/Flags 4/FontBBox[${box}]/ItalicAngle 0/Ascent ${Math.round(font.ascent * scale)}` +
        `/Descent ${Math.round(font.descent * scale)}/CapHeight ${Math.round(font.capHeight * scale)}/StemV 80/FontFile2 ${first + 3} 0 R>>`,
      program,
      toUnicode,
    ],
  };
}

/** Deflated stream object with its dictionary. */
export function streamBody(content: Buffer, entries = ''): Buffer {
  const packed = deflateSync(content, { level: 9 });
  return Buffer.concat([
    Buffer.from(`<</Length ${packed.length}/Filter/FlateDecode${entries}>>stream\n`, 'latin1'),
    packed,
    Buffer.from('\nendstream', 'latin1'),
  ]);
}

/** Glyph to character, for searching and copying; the figures of equal width are figures again. */
function unicodeMap(font: TrueTypeFont): string {
  const characters = new Map<number, number>();
  for (const [character, glyph] of font.glyphs) {
    const isEqualFigure = character >= equalFiguresStart && character < equalFiguresStart + 10;
    const plain = isEqualFigure ? character - equalFiguresStart + 0x30 : character;
    if (!characters.has(glyph)) characters.set(glyph, plain);
  }
  const lines = [...characters].map(([glyph, character]) => `<${hex4(glyph)}><${hex4(character)}>`);
  const blocks: string[] = [];
  // A block may hold at most 100 entries (ISO 32000-1, 9.10.3 by way of the CMap rules).
  for (let at = 0; at < lines.length; at += 100) {
    const block = lines.slice(at, at + 100);
    blocks.push(`${block.length} beginbfchar\n${block.join('\n')}\nendbfchar`);
  }
  return [
    '/CIDInit /ProcSet findresource begin 12 dict begin begincmap',
    '/CIDSystemInfo <</Registry(Adobe)/Ordering(UCS)/Supplement 0>> def /CMapName /Adobe-Identity-UCS def /CMapType 2 def',
    '1 begincodespacerange <0000><FFFF> endcodespacerange',
    ...blocks,
    'endcmap CMapName currentdict /CMap defineresource pop end end',
  ].join('\n');
}
