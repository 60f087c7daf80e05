/** What a camera would see of our labels: drawn from the print itself, askew, small and a little out of focus, before a bench that is not white. */
import { writeFile } from 'node:fs/promises';
import { parseCode } from '@corewright/codes/label-code';
import type { LabelModel } from '@corewright/labels/label-model';
import { labelStocks } from '@corewright/labels/label-stock';
import sharp from 'sharp';
import { labelPdf } from '../../apps/api/src/labels/pdf/label-pdf.js';
import { drawPages } from './label-reader.js';

const frame = { width: 1280, height: 720 };
const bench = { r: 120, g: 112, b: 98 };
/** As many frames a second as Chromium plays of such a film. */
const framesPerSecond = 30;

export interface Shot {
  /** null: the bench alone */
  readonly label: LabelModel | null;
  readonly seconds: number;
  /** how far the label is turned, in degrees */
  readonly turned?: number;
}

export function labelFor(code: string, title: string): LabelModel {
  const parsed = parseCode(code);
  if (!parsed.ok) throw new Error(parsed.error.message);
  return { code: parsed.value.code, title };
}

async function still({ label, turned = 0 }: Shot): Promise<Buffer> {
  const ground = sharp({ create: { ...frame, channels: 3, background: bench } });
  if (label === null) return ground.jpeg().toBuffer();
  const dpi = 300;
  const [page] = await drawPages(await labelPdf({ stock: labelStocks['label-50x30'], dpi, labels: [label] }), dpi);
  const print = await sharp(page!.grey, { raw: { width: page!.width, height: page!.height, channels: 1 } })
    .resize({ width: 560 })
    .toColourspace('srgb')
    .rotate(turned, { background: bench })
    .png()
    .toBuffer();
  return ground
    .composite([{ input: print }])
    .blur(0.6)
    .jpeg({ quality: 80 })
    .toBuffer();
}

/** Writes the shots one after the other as Motion JPEG; whoever plays it begins again at the end. */
export async function writeFilm(path: string, shots: readonly Shot[]): Promise<void> {
  const frames: Buffer[] = [];
  for (const shot of shots) {
    const picture = await still(shot);
    for (let count = 0; count < shot.seconds * framesPerSecond; count += 1) frames.push(picture);
  }
  await writeFile(path, Buffer.concat(frames));
}
