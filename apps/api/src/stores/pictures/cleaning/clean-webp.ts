import { cleanExif } from './exif.js';

/** Chunks of RFC 9649 that decode a picture and give its colours. */
const kept = new Set(['VP8 ', 'VP8L', 'VP8X', 'ALPH', 'ANIM', 'ANMF', 'ICCP']);
/** In the flags of VP8X. */
const xmpFlag = 0x04;
const exifFlag = 0x08;

/** As `cleanJpeg`, for WebP. */
export function cleanWebp(file: Buffer): { pieces: Buffer[]; exif: Buffer | null } | null {
  const whole = 8 + file.readUInt32LE(4);
  if (whole > file.length) return null;
  const chunks: Buffer[] = [];
  let exif: Buffer | null = null;
  for (let at = 12; at + 8 <= whole; ) {
    const size = file.readUInt32LE(at + 4);
    const end = at + 8 + size + (size % 2);
    if (at + 8 + size > whole) return null;
    const name = file.toString('latin1', at, at + 4);
    if (kept.has(name)) chunks.push(padded(file.subarray(at, Math.min(end, whole))));
    else if (name === 'EXIF' && exif === null) {
      exif = cleanExif(withoutHead(file.subarray(at + 8, at + 8 + size)));
      if (exif !== null) chunks.push(exifChunk(exif));
    }
    at = end;
  }
  return { pieces: [riffHead(chunks), ...chunks.map((each) => flagged(each, exif !== null))], exif };
}

/** Some programs put the head of a JPEG's segment before the facts. */
function withoutHead(data: Buffer): Buffer {
  return data.toString('latin1', 0, 6) === 'Exif\0\0' ? data.subarray(6) : data;
}

function padded(chunk: Buffer): Buffer {
  return chunk.length % 2 === 0 ? chunk : Buffer.concat([chunk, Buffer.alloc(1)]);
}

function exifChunk(facts: Buffer): Buffer {
  const head = Buffer.from('EXIF\0\0\0\0', 'latin1');
  head.writeUInt32LE(facts.length, 4);
  return padded(Buffer.concat([head, facts]));
}

/** What VP8X says is in the file must be so. */
function flagged(chunk: Buffer, hasExif: boolean): Buffer {
  if (chunk.toString('latin1', 0, 4) !== 'VP8X' || chunk.length < 9) return chunk;
  const said = Buffer.from(chunk);
  said[8] = ((said[8] ?? 0) & ~(xmpFlag | exifFlag)) | (hasExif ? exifFlag : 0);
  return said;
}

function riffHead(chunks: readonly Buffer[]): Buffer {
  const head = Buffer.from('RIFF\0\0\0\0WEBP', 'latin1');
  head.writeUInt32LE(4 + chunks.reduce((sum, each) => sum + each.length, 0), 4);
  return head;
}
