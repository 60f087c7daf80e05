import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';
import readerAddress from 'zxing-wasm/reader/zxing_reader.wasm?url';
import type { SymbolSeen } from './aim.js';

/** A picture from the camera, or none: then the reader is only made ready. */
export interface FrameAsked {
  readonly picture: ImageData | null;
}
export interface FrameRead {
  readonly symbols: readonly SymbolSeen[];
  /** in words, where the reader does not work here */
  readonly fault: string | null;
}

// served by ourselves, like everything else
prepareZXingModule({ overrides: { locateFile: () => readerAddress } });

/** What our labels bear, and the symbols on other people's packets, so that it can be said that they are not ours. */
const formats = ['DataMatrix', 'Code128', 'QRCode', 'EAN13', 'UPCA', 'Code39'] as const;

async function symbolsIn(picture: ImageData): Promise<SymbolSeen[]> {
  const found = await readBarcodes(picture, { formats: [...formats], maxNumberOfSymbols: 8, tryHarder: true, tryInvert: false });
  return found
    .filter(({ isValid }) => isValid)
    .map(({ text, position: { topLeft, topRight, bottomLeft, bottomRight } }) => ({
      text,
      x: (topLeft.x + topRight.x + bottomLeft.x + bottomRight.x) / 4,
      y: (topLeft.y + topRight.y + bottomLeft.y + bottomRight.y) / 4,
    }));
}

self.addEventListener('message', ({ data: { picture } }: MessageEvent<FrameAsked>) => {
  const read = picture === null ? prepareZXingModule({ fireImmediately: true }).then(() => []) : symbolsIn(picture);
  const answer = (said: FrameRead) => self.postMessage(said);
  read.then(
    (symbols) => answer({ symbols, fault: null }),
    (thrown: unknown) => answer({ symbols: [], fault: String(thrown) }),
  );
});
