import sharp, { type OutputInfo, type Sharp } from 'sharp';
import { type Result, refused } from '../../platform/refusal.js';
import { pictureKindOf } from './picture-kind.js';

/** Longest side of what is kept, in pixels: marks can still be read on it. */
const fullSide = 2048;
const smallSide = 320;
const quality = 82;
/** A file of a few bytes can claim to be huge; no camera of a phone makes more. */
const pixelsMax = 120_000_000;

export interface Developed {
  full: Buffer;
  small: Buffer;
  width: number;
  height: number;
}

/**
 * Turns an upload upright, strips what the camera wrote into it (place, time, owner) and makes the two sizes that are kept, as JPEG.
 * Nothing of the file itself is kept.
 */
export async function develop(upload: Buffer): Promise<Result<Developed>> {
  const kind = pictureKindOf(upload);
  if (!kind.ok) return kind;
  try {
    const upright = sharp(upload, { limitInputPixels: pixelsMax, failOn: 'error' })
      .autoOrient()
      .flatten({ background: '#ffffff' });
    const full = await sized(upright, fullSide);
    const small = await sized(upright, smallSide);
    return { ok: true, value: { full: full.data, small: small.data, width: full.info.width, height: full.info.height } };
  } catch {
    return refused({
      status: 422,
      code: 'picture-damaged',
      title: 'The picture cannot be read',
      detail:
        'The file begins like a picture, but the rest of it cannot be read. Take the photograph again, or send the file once more.',
    });
  }
}

function sized(picture: Sharp, side: number): Promise<{ data: Buffer; info: OutputInfo }> {
  return picture
    .clone()
    .resize({ width: side, height: side, fit: 'inside', withoutEnlargement: true })
    .jpeg({ quality, mozjpeg: false })
    .toBuffer({ resolveWithObject: true });
}
