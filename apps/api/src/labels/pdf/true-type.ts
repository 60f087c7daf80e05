/** The few tables of a TrueType font that are needed to set text in it (ISO/IEC 14496-22, "Open Font Format"). */
export interface TrueTypeFont {
  data: Buffer;
  unitsPerEm: number;
  /** xMin, yMin, xMax, yMax over all glyphs, in font units. */
  box: readonly [number, number, number, number];
  ascent: number;
  descent: number;
  capHeight: number;
  /** Advance widths by glyph, in font units. */
  advances: readonly number[];
  /** Character (code point) to glyph. */
  glyphs: ReadonlyMap<number, number>;
}

/** Reads a font with a cmap of format 4 (the Basic Multilingual Plane). Throws on anything else: our fonts come with the program. */
export function readTrueType(data: Buffer): TrueTypeFont {
  const table = (tag: string): Buffer => {
    const count = data.readUInt16BE(4);
    for (let index = 0; index < count; index += 1) {
      const entry = 12 + index * 16;
      if (data.toString('latin1', entry, entry + 4) === tag) {
        const offset = data.readUInt32BE(entry + 8);
        return data.subarray(offset, offset + data.readUInt32BE(entry + 12));
      }
    }
    throw new Error(`The font has no table ${tag}`);
  };
  const head = table('head');
  const hhea = table('hhea');
  const os2 = table('OS/2');
  return {
    data,
    unitsPerEm: head.readUInt16BE(18),
    box: [head.readInt16BE(36), head.readInt16BE(38), head.readInt16BE(40), head.readInt16BE(42)],
    ascent: hhea.readInt16BE(4),
    descent: hhea.readInt16BE(6),
    capHeight: os2.readInt16BE(88),
    advances: readAdvances(table('hmtx'), hhea.readUInt16BE(34), table('maxp').readUInt16BE(4)),
    glyphs: readCharacterMap(table('cmap')),
  };
}

/** Glyphs after the last full entry share its advance. */
function readAdvances(hmtx: Buffer, entries: number, glyphs: number): number[] {
  return Array.from({ length: glyphs }, (_, glyph) => hmtx.readUInt16BE(Math.min(glyph, entries - 1) * 4));
}

function readCharacterMap(cmap: Buffer): Map<number, number> {
  for (let index = 0; index < cmap.readUInt16BE(2); index += 1) {
    const subtable = cmap.subarray(cmap.readUInt32BE(4 + index * 8 + 4));
    if (subtable.readUInt16BE(0) === 4) return readSegments(subtable);
  }
  throw new Error('The font has no character map of format 4');
}

function readSegments(subtable: Buffer): Map<number, number> {
  const glyphs = new Map<number, number>();
  const doubled = subtable.readUInt16BE(6);
  const ends = 14;
  const starts = ends + doubled + 2;
  const deltas = starts + doubled;
  const offsets = deltas + doubled;
  for (let segment = 0; segment < doubled; segment += 2) {
    const end = subtable.readUInt16BE(ends + segment);
    const start = subtable.readUInt16BE(starts + segment);
    const delta = subtable.readUInt16BE(deltas + segment);
    const offset = subtable.readUInt16BE(offsets + segment);
    for (let character = start; character <= end && character !== 0xffff; character += 1) {
      // An offset counts from its own place in the table to the glyph's.
      const found = offset === 0 ? character : subtable.readUInt16BE(offsets + segment + offset + (character - start) * 2);
      if (found !== 0) glyphs.set(character, (found + delta) & 0xffff);
    }
  }
  return glyphs;
}
