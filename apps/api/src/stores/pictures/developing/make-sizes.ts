import sharp, { type Sharp } from 'sharp';

/** Longest side of what a screen shows, in pixels: marks can still be read on it. */
const fullSide = 2048;
const smallSide = 320;
const quality = 82;
/** A file of a few bytes can claim to be huge; no camera of a phone makes more. */
export const pixelsMax = 120_000_000;

// One picture at a time, on one thread, and nothing of it kept: this process stands behind everything else.
sharp.concurrency(1);
sharp.cache(false);

/** Upright, without anything that the camera wrote, as JPEG: the small one first, for it is looked at first. */
export interface Sizes {
  small: Buffer;
  full: Buffer;
  /** of the whole picture, upright */
  width: number;
  height: number;
}

/** @throws Error where the file is no whole picture, or larger than `pixelsMax` */
export async function makeSizes(picture: Buffer): Promise<Sizes> {
  const upright = sharp(picture, { limitInputPixels: pixelsMax, failOn: 'error' })
    .autoOrient()
    .flatten({ background: '#ffffff' });
  const { autoOrient } = await upright.metadata();
  const small = await sized(upright, smallSide);
  const full = await sized(upright, fullSide);
  return { small, full, width: autoOrient.width, height: autoOrient.height };
}

/** How many points a picture claims to have; null where that cannot be read. */
export async function pointsOf(picture: Buffer): Promise<number | null> {
  const { width, height } = await sharp(picture, { limitInputPixels: false }).metadata();
  return width && height ? width * height : null;
}

function sized(picture: Sharp, side: number): Promise<Buffer> {
  return picture
    .clone()
    .resize({ width: side, height: side, fit: 'inside', withoutEnlargement: true })
    .jpeg({ quality, mozjpeg: false })
    .toBuffer();
}
