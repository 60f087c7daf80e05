import { crc32 } from 'node:zlib';
import { cleanExif } from './exif.js';

/** Chunks of the PNG specification (W3C, third edition) that decode a picture and give its colours and size; words and moving pictures go. */
const kept = new Set([
  'IHDR',
  'PLTE',
  'IDAT',
  'IEND',
  'tRNS',
  'gAMA',
  'cHRM',
  'sRGB',
  'iCCP',
  'cICP',
  'sBIT',
  'bKGD',
  'pHYs',
  'tIME',
]);

/** As `cleanJpeg`, for PNG. */
export function cleanPng(file: Buffer): { pieces: Buffer[]; exif: Buffer | null } | null {
  const pieces: Buffer[] = [file.subarray(0, 8)];
  let exif: Buffer | null = null;
  let at = 8;
  while (at + 12 <= file.length) {
    const end = at + 12 + file.readUInt32BE(at);
    if (end > file.length) return null;
    const name = file.toString('latin1', at + 4, at + 8);
    if (kept.has(name)) pieces.push(file.subarray(at, end));
    else if (name === 'eXIf' && exif === null) {
      exif = cleanExif(file.subarray(at + 8, end - 4));
      if (exif !== null) pieces.push(chunk('eXIf', exif));
    }
    if (name === 'IEND') return { pieces, exif };
    at = end;
  }
  return null;
}

function chunk(name: string, data: Buffer): Buffer {
  const named = Buffer.concat([Buffer.from(name, 'latin1'), data]);
  const [head, sum] = [Buffer.alloc(4), Buffer.alloc(4)];
  head.writeUInt32BE(data.length);
  sum.writeUInt32BE(crc32(named));
  return Buffer.concat([head, named, sum]);
}
