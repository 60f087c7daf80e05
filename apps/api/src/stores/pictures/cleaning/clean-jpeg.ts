import { cleanExif } from './exif.js';

const exifHead = Buffer.from('Exif\0\0', 'latin1');
const startOfScan = 0xda;
const endOfImage = 0xd9;

/**
 * The same picture, point for point, without what could tell where it was taken: of the segments of ISO/IEC 10918-1 those that decode it stay, with its
 * colours (ICC, Adobe) and the camera's cleaned facts. Other notes go (XMP, IPTC, comments, further pictures), and so does all that follows its end.
 * @returns the pieces of the file, and the camera's facts; null where it breaks off or is no JPEG
 */
export function cleanJpeg(file: Buffer): { pieces: Buffer[]; exif: Buffer | null } | null {
  const pieces: Buffer[] = [file.subarray(0, 2)];
  let exif: Buffer | null = null;
  let at = 2;
  for (;;) {
    const head = segmentAt(file, at);
    if (head === null) return null;
    if (head.marker === endOfImage) {
      pieces.push(file.subarray(head.from, head.from + 2));
      return { pieces, exif };
    }
    const segment = file.subarray(head.from, head.end);
    if (isExif(head.marker, segment)) {
      const facts: Buffer | null = exif === null ? cleanExif(segment.subarray(4 + exifHead.length)) : null;
      if (facts !== null) pieces.push(exifSegment(facts));
      exif ??= facts;
    } else if (isKept(head.marker, segment)) pieces.push(segment);
    at = head.end;
    if (head.marker === startOfScan) {
      const next = endOfScan(file, at);
      if (next === null) return null;
      pieces.push(file.subarray(at, next));
      at = next;
    }
  }
}

interface Segment {
  marker: number;
  from: number;
  end: number;
}

/** Bytes of filling may stand before a marker. */
function segmentAt(file: Buffer, start: number): Segment | null {
  let from = start;
  while (file[from] === 0xff && file[from + 1] === 0xff) from += 1;
  const marker = file[from + 1];
  if (file[from] !== 0xff || marker === undefined) return null;
  if (marker === endOfImage) return { marker, from, end: from + 2 };
  if (from + 4 > file.length) return null;
  const length = file.readUInt16BE(from + 2);
  const end = from + 2 + length;
  return length < 2 || end > file.length ? null : { marker, from, end };
}

/** Within a scan 0xFF is followed by nought, or is a restart; anything else is the next marker. */
function endOfScan(file: Buffer, start: number): number | null {
  let at = file.indexOf(0xff, start);
  while (at >= 0 && at + 1 < file.length) {
    const next = file[at + 1] ?? 0;
    if (next !== 0 && next !== 0xff && (next < 0xd0 || next > 0xd7)) return at;
    at = file.indexOf(0xff, next === 0xff ? at + 1 : at + 2);
  }
  return null;
}

function isExif(marker: number, segment: Buffer): boolean {
  return marker === 0xe1 && segment.subarray(4, 4 + exifHead.length).equals(exifHead);
}

function isKept(marker: number, segment: Buffer): boolean {
  const isNote = (marker >= 0xe0 && marker <= 0xef) || marker === 0xfe;
  if (!isNote) return true;
  const begins = (words: string): boolean => segment.toString('latin1', 4, 4 + words.length) === words;
  if (marker === 0xe0) return begins('JFIF\0');
  if (marker === 0xe2) return begins('ICC_PROFILE\0');
  return marker === 0xee && begins('Adobe');
}

function exifSegment(facts: Buffer): Buffer {
  const head = Buffer.from([0xff, 0xe1, 0, 0]);
  head.writeUInt16BE(2 + exifHead.length + facts.length, 2);
  return Buffer.concat([head, exifHead, facts]);
}
