import { type Result, refused } from '../../platform/refusal.js';

export type PictureKind = 'jpeg' | 'png' | 'webp';

const jpeg = [0xff, 0xd8, 0xff];
const png = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
/** Brands of ISO/IEC 23008-12 that phones write. */
const heifBrands = new Set(['heic', 'heix', 'hevc', 'hevx', 'heim', 'heis', 'mif1', 'msf1', 'avif']);

/** What the bytes are, by how they begin; what a browser or a file's name says counts for nothing. */
export function pictureKindOf(bytes: Uint8Array): Result<{ kind: PictureKind }> {
  if (beginsWith(bytes, jpeg)) return { ok: true, value: { kind: 'jpeg' } };
  if (beginsWith(bytes, png)) return { ok: true, value: { kind: 'png' } };
  if (letters(bytes, 0) === 'RIFF' && letters(bytes, 8) === 'WEBP') return { ok: true, value: { kind: 'webp' } };
  const isHeif = letters(bytes, 4) === 'ftyp' && heifBrands.has(letters(bytes, 8));
  return refused({
    status: 415,
    code: 'not-a-picture',
    title: 'Not a picture that can be kept',
    detail: isHeif
      ? 'This picture is in the form that some phones keep (HEIC), which browsers do not show. Set the camera to “most compatible”, or send it as JPEG.'
      : 'This file is not a JPEG, PNG or WebP picture. Take the photograph again, or choose another file.',
  });
}

function beginsWith(bytes: Uint8Array, start: readonly number[]): boolean {
  return start.every((byte, index) => bytes[index] === byte);
}

function letters(bytes: Uint8Array, from: number): string {
  return String.fromCharCode(...bytes.subarray(from, from + 4));
}
