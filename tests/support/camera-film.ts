/** What a camera would see of our labels: drawn from the print itself, askew, small and a little out of focus, before a bench that is not white. */
import { writeFile } from 'node:fs/promises';
import { parseCode } from '@corewright/codes/label-code';
import type { LabelModel } from '@corewright/labels/label-model';
import { labelStocks } from '@corewright/labels/label-stock';
import type { BrowserContext } from 'playwright-core';
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

export interface Still {
  readonly picture: Buffer;
  readonly seconds: number;
}

export function stillsOf(shots: readonly Shot[]): Promise<Still[]> {
  return Promise.all(shots.map(async (shot) => ({ picture: await still(shot), seconds: shot.seconds })));
}

/** Writes them one after the other as Motion JPEG; whoever plays it begins again at the end. */
export async function writeFilm(path: string, stills: readonly Still[]): Promise<void> {
  const frames = stills.flatMap(({ picture, seconds }) => Array<Buffer>(seconds * framesPerSecond).fill(picture));
  await writeFile(path, Buffer.concat(frames));
}

/**
 * The packaged browser was built without cameras. There the same stills are played on a canvas whose stream stands for the camera's; a browser that has cameras
 * plays the film as one of its own.
 */
export async function playWhereThereAreNoCameras(context: BrowserContext, stills: readonly Still[]): Promise<void> {
  const reel = stills.map(({ picture, seconds }) => ({
    address: `data:image/jpeg;base64,${picture.toString('base64')}`,
    seconds,
  }));
  await context.addInitScript((pictures) => {
    const devices = navigator.mediaDevices as MediaDevices | undefined;
    // a page that has not gone anywhere yet
    if (devices === undefined) return;
    const real = devices.getUserMedia.bind(devices);
    const play = async (): Promise<MediaStream> => {
      const canvas = document.createElement('canvas');
      const ground = canvas.getContext('2d')!;
      const loaded = await Promise.all(
        pictures.map(async ({ address, seconds }) => {
          const image = new Image();
          image.src = address;
          await image.decode();
          return { image, seconds };
        }),
      );
      canvas.width = loaded[0]!.image.width;
      canvas.height = loaded[0]!.image.height;
      const begun = performance.now();
      const whole = loaded.reduce((sum, { seconds }) => sum + seconds, 0);
      setInterval(() => {
        let at = ((performance.now() - begun) / 1000) % whole;
        const now = loaded.find(({ seconds }) => {
          at -= seconds;
          return at < 0;
        });
        ground.drawImage((now ?? loaded[0]!).image, 0, 0);
      }, 33);
      return canvas.captureStream(30);
    };
    devices.getUserMedia = (asked) =>
      real(asked).catch((thrown: DOMException) => {
        if (thrown.name !== 'NotSupportedError') throw thrown;
        return play();
      });
  }, reel);
}
