import type { LabelCode } from '@corewright/codes/label-code';
import type { LabelStock as StockName } from '@corewright/contracts/labels';
import type { JobKit, PickList } from '@corewright/contracts/pick-list';
import type { LabelModel } from '@corewright/labels/label-model';
import type { PrinterResolution } from '@corewright/labels/label-scene';
import type { LabelStock } from '@corewright/labels/label-stock';
import { decimalFrom, formatDecimal, notBelowZero, subtractDecimals, sumDecimals, zero } from '@corewright/quantities/decimal';
import { formatPlainDate } from '@corewright/quantities/plain-date';
import { formatQuantity, type UnitOfMeasure } from '@corewright/quantities/unit-of-measure';
import { spoken } from '../../jobs/job.queries.js';
import { stockOf } from '../../labels/label-run.service.js';
import { labelPdf, labelScene } from '../../labels/pdf/label-pdf.js';
import type { Moment } from '../../people/workshop.js';

/** A line of which something is missing from the tray. */
interface MissingLine {
  lineNo: number;
  words: string;
}

export interface TrayLabel {
  kit: JobKit;
  stops: PickList['stops'];
  /** what the unit is */
  unit: string;
  /** when it is printed: it ages with the next scan */
  now: Moment;
}

/** No label has room for more. */
const linesMax = 14;

/** The label of a tray that is not full: the job, how much of it is in, and what is missing, as much as there is room for. */
export function trayLabelPdf(label: TrayLabel, stockName: StockName, dpi: PrinterResolution): Promise<Buffer> {
  const stock = stockOf(stockName);
  return labelPdf({ stock, dpi, labels: [trayLabel(label, stock, dpi)] });
}

/** As many of the missing lines as there is room for without cutting one short; the others are counted. */
export function trayLabel(label: TrayLabel, stock: LabelStock, dpi: PrinterResolution): LabelModel {
  const missing = missingLines(label);
  const fits = (model: LabelModel) => !labelScene(model, stock, dpi).shortened.includes('footer');
  for (let shown = Math.min(missing.length, linesMax); shown > 0; shown -= 1) {
    const model = modelWith(label, missing, shown);
    if (fits(model)) return model;
  }
  return modelWith(label, missing, 0);
}

function modelWith({ kit, unit, now }: TrayLabel, missing: readonly MissingLine[], shown: number): LabelModel {
  const more = missing.length - shown;
  const lines = missing.slice(0, shown).map(({ words }) => words);
  return {
    code: kit.code as LabelCode,
    corner: `${formatPlainDate(now.date)} ${timeOf(now)}`,
    title: kit.name,
    // a tray that is named after its job says nothing more
    subtitle: [unit, kit.tray.name.includes(spoken(kit.code)) ? '' : kit.tray.name].filter((each) => each !== '').join(' · '),
    facts: [inWords(kit)],
    footer: footerOf(lines, more),
  };
}

function footerOf(lines: readonly string[], more: number): string[] {
  if (lines.length > 0) return [...lines, ...(more > 0 ? [`and ${more} more`] : [])];
  return [more === 0 ? 'nothing is missing' : more === 1 ? '1 line is missing' : `${more} lines are missing`];
}

/** "5 of 9 in", of what does not stand in the unit already. */
function inWords({ sums }: JobKit): string {
  const each = sums.flatMap(({ unitOfMeasure, needed, shares }) => {
    const of = (state: string) => decimalFrom(shares.find((share) => share.state === state)?.quantity ?? '0');
    const wanted = notBelowZero(subtractDecimals(decimalFrom(needed), of('in the unit')));
    return wanted === zero ? [] : [`${formatDecimal(of('in the tray'))} of ${formatQuantity(wanted, unitOfMeasure)}`];
  });
  return each.length === 0 ? 'nothing more needed' : `${each.join(', ')} in`;
}

/** Everything that is neither in the unit nor in the tray, line by line: what is waited for, what is only offered, and what is yet to be fetched. */
function missingLines({ kit, stops }: TrayLabel): MissingLine[] {
  const toFetch = stops.flatMap(({ rows }) =>
    rows
      .filter(({ jobId }) => jobId === kit.id)
      .flatMap(({ lines, part, inPlaceOf, unitOfMeasure }) =>
        lines.map((line) => ({ ...line, part: inPlaceOf ?? part, unitOfMeasure })),
      ),
  );
  const all = [...kit.waits, ...kit.offers, ...toFetch];
  const lineNos = [...new Set(all.map(({ lineNo }) => lineNo))].toSorted((one, other) => one - other);
  return lineNos.map((lineNo) => {
    const ofLine = all.filter((each) => each.lineNo === lineNo);
    const quantity = sumDecimals(ofLine.map((each) => decimalFrom(each.quantity)));
    const { part, unitOfMeasure } = ofLine[0] as (typeof all)[number];
    return { lineNo, words: `${formatQuantity(quantity, unitOfMeasure as UnitOfMeasure)} ${part.name}` };
  });
}

/** "14:05" */
function timeOf({ minuteOfDay }: Moment): string {
  return `${String(Math.floor(minuteOfDay / 60)).padStart(2, '0')}:${String(minuteOfDay % 60).padStart(2, '0')}`;
}
