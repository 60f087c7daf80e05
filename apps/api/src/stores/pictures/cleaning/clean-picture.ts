import type { PictureKind } from '../picture-kind.js';
import { cleanJpeg } from './clean-jpeg.js';
import { cleanPng } from './clean-png.js';
import { cleanWebp } from './clean-webp.js';
import { type TakenByCamera, takenByCamera } from './exif.js';

export interface CleanPicture {
  file: Buffer;
  taken: TakenByCamera | null;
}

const cleaners = { jpeg: cleanJpeg, png: cleanPng, webp: cleanWebp } as const;

/**
 * The picture as it was taken, without what could tell where. Its points are untouched; cleaned again it is the same file.
 * @returns null where it breaks off
 */
export function cleanPicture(kind: PictureKind, file: Buffer): CleanPicture | null {
  const clean = cleaners[kind](file);
  if (clean === null) return null;
  return { file: Buffer.concat(clean.pieces), taken: clean.exif === null ? null : takenByCamera(clean.exif) };
}
