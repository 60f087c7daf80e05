import { parseCode } from '@corewright/codes/label-code';
import type { LabelText } from '@corewright/contracts/labels';
import { layoutLabel } from '@corewright/labels/label-layout';
import type { LabelModel } from '@corewright/labels/label-model';
import type { LabelScene, PrinterResolution } from '@corewright/labels/label-scene';
import { type LabelStock, type LabelStockId, labelStocks } from '@corewright/labels/label-stock';
import { encodeSymbols } from './encode-symbols.js';
import { loadMeasure } from './measure-text.js';

const STOCKS: Readonly<Record<LabelText['stock'], LabelStockId>> = {
  'tie-on tag': 'tag-100x50',
  'bag label': 'label-50x30',
  'A4 sheet': 'sheet-a4-24',
};

export interface Proof {
  readonly scene: LabelScene;
  readonly stock: LabelStock;
}

/** Lays out a label for the screen exactly as for the printer. */
export async function proofOf(label: LabelText, stockName: LabelText['stock'], dpi: PrinterResolution): Promise<Proof> {
  const parsed = parseCode(label.code);
  if (!parsed.ok) throw new Error(parsed.error.message);
  const stock = labelStocks[STOCKS[stockName]];
  const model: LabelModel = {
    code: parsed.value.code,
    title: label.title,
    subtitle: label.subtitle,
    facts: label.facts,
    footer: label.foot,
    ...(label.warning === null ? {} : { warning: label.warning }),
    ...(label.corner === '' ? {} : { corner: label.corner }),
    ...(label.badge === '' ? {} : { badge: label.badge }),
    prominent: label.prominent,
  };
  const [symbols, measure] = await Promise.all([encodeSymbols(parsed.value.code), loadMeasure()]);
  return { scene: layoutLabel(model, symbols, stock, dpi, measure), stock };
}
