/**
 * A label run against the bare encoder: 1,000 labels, each with Code 128, Data Matrix and at least four lines of text, as PDF.
 *
 * The floor encodes the same symbols of the same codes with the same options and does nothing else: no layout, no text, no file.
 * Every code is used once in a round by ours and once by the floor, and no two rounds share one, so nothing can be kept from before.
 */
import { performance } from 'node:perf_hooks';
import { labelPdf } from '@corewright/api/dist/labels/pdf/label-pdf.js';
import { matrixVersion } from '@corewright/api/dist/labels/pdf/symbols.js';
import { type LabelCode, makeCode } from '@corewright/codes/label-code';
import { type LabelModel, lotLabel } from '@corewright/labels/label-model';
import { type LabelStock, labelStocks } from '@corewright/labels/label-stock';
import bwipjs from 'bwip-js/node';
import type { BenchRow } from './bench-row.js';

const labelCount = 1000;
const rounds = 5;
const reach = 0.45;

export async function labelRun(): Promise<BenchRow[]> {
  await warmUp();
  return [
    await compare('roll of 50 × 30 mm', labelStocks['label-50x30'], 100_000),
    await compare('A4 sheets of 24', labelStocks['sheet-a4-24'], 200_000),
  ];
}

/** Both sides and both stocks run once unmeasured, for the first calls are slow while code is compiled. */
async function warmUp(): Promise<void> {
  for (const [index, stock] of [labelStocks['label-50x30'], labelStocks['sheet-a4-24']].entries()) {
    const codes = codesFrom(500_000 + index * labelCount);
    encodeOnly(codes);
    await draw(codes, stock);
  }
}

async function compare(name: string, stock: LabelStock, firstSerial: number): Promise<BenchRow> {
  const ratios: number[] = [];
  for (let round = 0; round < rounds; round += 1) {
    const codes = codesFrom(firstSerial + round * labelCount);
    // Whoever comes second finds a warmer machine, so the two take turns at it.
    const oursFirst = round % 2 === 0;
    const early = oursFirst ? await timed(() => draw(codes, stock)) : 0;
    const floor = await timed(() => encodeOnly(codes));
    const ours = oursFirst ? early : await timed(() => draw(codes, stock));
    ratios.push(floor / ours);
  }
  const value = median(ratios);
  return {
    id: 'label-run',
    what: `${labelCount.toLocaleString('en-GB')} labels as PDF, ${name}: rate against the bare encoder`,
    value: Math.round(value * 1000) / 1000,
    unit: 'ratio',
    reach: `at least ${reach}`,
    holds: value >= reach,
  };
}

/** The floor. The options are those of the label writer. */
function encodeOnly(codes: readonly LabelCode[]): void {
  for (const code of codes) {
    bwipjs.raw({ bcid: 'code128', text: code });
    bwipjs.raw('datamatrix', code, `version=${matrixVersion}`);
  }
}

async function draw(codes: readonly LabelCode[], stock: LabelStock): Promise<void> {
  const pdf = await labelPdf({ stock, dpi: 203, labels: codes.map(label) });
  if (pdf.length < 100_000) throw new Error(`A run of ${codes.length} labels cannot be ${pdf.length} bytes`);
}

/** Code, title, number with its source, packet: four lines and more. */
function label(code: LabelCode, index: number): LabelModel {
  return lotLabel({
    code,
    place: `R${index % 7} B${index % 40}`,
    title: `Taper bearing cone, ${index}`,
    number: `48-${2000 + index}/1`,
    provenance: 'old stock, Corvane',
    packet: '3/53, sealed',
    notes: [`cup is ${index + 1}`],
  });
}

function codesFrom(firstSerial: number): LabelCode[] {
  return Array.from({ length: labelCount }, (_, index) => makeCode('L', firstSerial + index));
}

async function timed(work: () => void | Promise<void>): Promise<number> {
  const begin = performance.now();
  await work();
  return performance.now() - begin;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((one, other) => one - other);
  return sorted[Math.floor(sorted.length / 2)]!;
}
