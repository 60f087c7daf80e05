import type { SymbolData } from '@corewright/labels/symbol-rects';

/** Code 128 and Data Matrix of a code, as data. The encoder is fetched when the first label is shown, not with the app. */
export async function encodeSymbols(code: string): Promise<SymbolData> {
  // only the default export's `raw` gives data: the named one draws a symbology that happens to bear this name
  const { default: encoder } = await import('bwip-js/browser');
  const linear = encoder.raw({ bcid: 'code128', text: code })[0];
  const matrix = encoder.raw('datamatrix', code, 'version=14x14')[0];
  if (linear === undefined || !('sbs' in linear) || matrix === undefined || !('pixs' in matrix))
    throw new Error(`The encoder gave no symbol for ${code}`);
  return { linear: linear.sbs, matrix };
}
