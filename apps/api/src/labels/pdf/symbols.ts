import type { LabelCode } from '@corewright/codes/label-code';
import type { SymbolData } from '@corewright/labels/symbol-rects';
import bwipjs from 'bwip-js/node';

/**
 * One size for every code, long ones too, so that labels of a kind look alike. Of its 8 codewords a code of a letter and eight digits
 * fills 5; against the 12 x 12 that would do, there are three more codewords that correct errors.
 */
export const matrixVersion = '14x14';

/** Code 128 and Data Matrix ECC 200 of a code, as data. The encoder chooses the code sets. */
export function encodeSymbols(code: LabelCode): SymbolData {
  const linear = bwipjs.raw({ bcid: 'code128', text: code })[0];
  const matrix = bwipjs.raw('datamatrix', code, `version=${matrixVersion}`)[0];
  if (linear === undefined || !('sbs' in linear) || matrix === undefined || !('pixs' in matrix)) {
    throw new Error(`The encoder gave no symbol for ${code}`);
  }
  return { linear: linear.sbs, matrix };
}
