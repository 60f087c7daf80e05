import type { LabelCode } from '@corewright/codes/label-code';
import type { LabelStock as StockName } from '@corewright/contracts/labels';
import type { PrinterResolution } from '@corewright/labels/label-scene';
import { type LabelStock, type LabelStockId, labelStocks } from '@corewright/labels/label-stock';
import { Injectable } from '@nestjs/common';
import { Database } from '../platform/database/database.js';
import { invariant } from '../platform/refusal.js';
import { commandCodes } from './command-codes.js';
import { LabelRegister } from './label-register.js';
import { labelPdf } from './pdf/label-pdf.js';

const stockIds: Record<StockName, LabelStockId> = {
  'tie-on tag': 'tag-100x50',
  'bag label': 'label-50x30',
  'A4 sheet': 'sheet-a4-24',
};

interface RunRow extends Record<string, unknown> {
  stock: StockName;
  dotsPerInch: PrinterResolution;
  startCell: number;
}

const selectRun = 'SELECT stock, dots_per_inch AS "dotsPerInch", start_cell AS "startCell" FROM label_runs WHERE id = $1';
const selectPrints = 'SELECT code, copies FROM label_prints WHERE run_id = $1 ORDER BY position';

/** Draws the document of a run. */
@Injectable()
export class LabelRuns {
  constructor(
    private readonly database: Database,
    private readonly register: LabelRegister,
  ) {}

  /** Null where no such run was started. What has changed since the run was started is printed as it is now. */
  async pdf(runId: string): Promise<Buffer | null> {
    const run = await this.database.row<RunRow>(selectRun, [runId]);
    if (run === null) return null;
    const prints = await this.database.rows<{ code: LabelCode; copies: number }>(selectPrints, [runId]);
    return this.draw(
      prints.map((print) => print.code),
      run,
    );
  }

  /** Every command card, in the order of their codes. */
  commandCards(stock: StockName, dotsPerInch: PrinterResolution): Promise<Buffer> {
    return this.draw(commandCodes, { stock, dotsPerInch, startCell: 1 });
  }

  private async draw(codes: readonly LabelCode[], { stock, dotsPerInch, startCell }: RunRow): Promise<Buffer> {
    const subjects = await this.register.subjectsOf(this.database, codes);
    const labels = codes.flatMap((code) => subjects.get(code)?.models ?? []);
    invariant(labels.length > 0, 'a run has labels');
    return labelPdf({ stock: stockOf(stock), dpi: dotsPerInch, labels, startCell });
  }
}

export function stockOf(name: StockName): LabelStock {
  return labelStocks[stockIds[name]];
}
