import { type BlankKind, CodeBlock, LabelRun, type LabelStock } from '@corewright/contracts/labels';
import { api } from '../../api/client.js';

export interface LabelRunInput {
  readonly id: string;
  /** All labels of a load, or … */
  readonly loadId?: string;
  /** … those of the codes named. */
  readonly codes?: readonly string[];
  /** … or what is free of a block of blank ones. */
  readonly blockId?: string;
  readonly onlyUnlabelled: boolean;
  readonly stock: LabelStock;
  readonly dotsPerInch: 203 | 300;
  /** On a sheet, the first free cell, 1 to 24. */
  readonly startCell: number;
}

/** Starts a run of labels; its document is then at the run's `pdfPath`. The same key never makes a second run. */
export function startLabelRun(input: LabelRunInput, key: string): Promise<LabelRun> {
  return api.send(LabelRun, 'POST', '/api/label-runs', input, { key });
}

/** Sets codes aside that are to be printed on blank labels. */
export function setCodesAside(input: { id: string; kind: BlankKind; count: number }, key: string): Promise<CodeBlock> {
  return api.send(CodeBlock, 'POST', '/api/code-blocks', input, { key });
}
