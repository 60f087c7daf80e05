/** Other people's programs on our labels: PDFium draws the page dot for dot, ZXing reads what is on it. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { PDFiumLibrary } from '@hyzyla/pdfium';
import { prepareZXingModule, type ReadResult, readBarcodes } from 'zxing-wasm/reader';

/** A picture of a page, one byte a dot: 0 is black, 255 white. */
export interface Picture {
  width: number;
  height: number;
  grey: Uint8Array;
}

const require = createRequire(import.meta.url);
let library: PDFiumLibrary | undefined;

/** Draws the pages at the printer's own resolution, so that a dot of the picture is a dot of the print. */
export async function drawPages(pdf: Buffer, dpi: number): Promise<Picture[]> {
  library ??= await PDFiumLibrary.init();
  const document = await library.loadDocument(pdf);
  const pictures: Picture[] = [];
  for (const page of document.pages()) {
    // The scale option would first round the page down to whole points; the true size gives the printer's dots.
    const { originalWidth, originalHeight } = page.getOriginalSize();
    const [width, height] = [Math.ceil((originalWidth * dpi) / 72), Math.ceil((originalHeight * dpi) / 72)];
    const drawn = await page.render({ width, height, scale: 1, render: 'bitmap' });
    const grey = Uint8Array.from({ length: drawn.width * drawn.height }, (_, dot) => drawn.data[dot * 4]!);
    pictures.push({ width: drawn.width, height: drawn.height, grey });
  }
  document.destroy();
  return pictures;
}

export function closeDrawing(): void {
  library?.destroy();
  library = undefined;
}

/** By default the reader would fetch its program over the network. */
export function openReader(): void {
  const wasmBinary = Uint8Array.from(readFileSync(require.resolve('zxing-wasm/reader/zxing_reader.wasm'))).buffer;
  prepareZXingModule({ overrides: { wasmBinary } });
}

export async function readPicture({ width, height, grey }: Picture, symbolsMax: number): Promise<ReadResult[]> {
  const data = new Uint8ClampedArray(width * height * 4);
  grey.forEach((shade, dot) => {
    data.fill(shade, dot * 4, dot * 4 + 3);
    data[dot * 4 + 3] = 255;
  });
  const image = { data, width, height, colorSpace: 'srgb' as const };
  const results = await readBarcodes(image, {
    formats: ['Code128', 'DataMatrix'],
    maxNumberOfSymbols: symbolsMax,
    tryHarder: true,
  });
  return results.filter(({ isValid }) => isValid);
}

/** A piece of a picture; what lies outside is white paper. */
export function cut(picture: Picture, x: number, y: number, width: number, height: number): Picture {
  const grey = new Uint8Array(width * height).fill(255);
  for (let row = 0; row < height; row += 1) {
    for (let column = 0; column < width; column += 1) {
      const [fromX, fromY] = [x + column, y + row];
      const inside = fromX >= 0 && fromY >= 0 && fromX < picture.width && fromY < picture.height;
      if (inside) grey[row * width + column] = picture.grey[fromY * picture.width + fromX]!;
    }
  }
  return { width, height, grey };
}

/** Black where the dot is darker than mid-grey, as a thermal head prints it. */
export function isBlack(picture: Picture, x: number, y: number): boolean {
  return picture.grey[y * picture.width + x]! < 128;
}
