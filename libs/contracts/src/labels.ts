import * as z from 'zod';
import { CodeText, Id, RequiredText } from './base.js';

export const LabelStock = z.enum(['tie-on tag', 'bag label', 'A4 sheet']);
export type LabelStock = z.infer<typeof LabelStock>;
export const DotsPerInch = z.union([z.literal(203), z.literal(300)]);

export const LabelPrinter = z.object({
  id: Id,
  name: z.string(),
  stock: LabelStock,
  dotsPerInch: DotsPerInch,
  version: z.number().int(),
});
export type LabelPrinter = z.infer<typeof LabelPrinter>;
export const LabelPrinterList = z.object({ printers: z.array(LabelPrinter) });
export const EditLabelPrinter = z.strictObject({ name: RequiredText, stock: LabelStock, dotsPerInch: DotsPerInch });

/** What a blank label can come to be on. */
export const BlankKind = z.enum(['unit', 'lot', 'unsorted']);
export type BlankKind = z.infer<typeof BlankKind>;
/** Sets codes aside for labels that are printed before anything bears them. */
export const SetCodesAside = z.strictObject({ id: Id, kind: BlankKind, count: z.number().int().min(1).max(500) });
/** Codes that were set aside together; those that nothing bears yet are free. */
export const CodeBlock = z.object({
  id: Id,
  kind: BlankKind,
  first: CodeText,
  last: CodeText,
  count: z.number().int(),
  /** of how many the label was printed */
  printed: z.number().int(),
  free: z.array(CodeText),
  by: z.string(),
  at: z.string(),
});
export type CodeBlock = z.infer<typeof CodeBlock>;
/** Those of which some are free, the newest first. */
export const CodeBlockList = z.object({ blocks: z.array(CodeBlock) });

/**
 * Starts a run: either the labels of a load (those that belong on the stock: tags for units, bag labels for lots and
 * unsorted; an A4 sheet takes all), the named codes, or what is free of a block of blank ones. Two tags a unit.
 */
export const StartLabelRun = z
  .strictObject({
    id: Id,
    loadId: Id.optional(),
    codes: z.array(CodeText).max(5000).optional(),
    blockId: Id.optional(),
    onlyUnlabelled: z.boolean().default(false),
    stock: LabelStock,
    dotsPerInch: DotsPerInch,
    startCell: z.number().int().min(1).max(24).default(1),
  })
  .refine((run) => [run.loadId, run.codes, run.blockId].filter((each) => each !== undefined).length === 1, {
    error: 'A run is for a load, for named codes or for a block of blank labels.',
  });
export const LabelRun = z.object({
  id: Id,
  labelCount: z.number().int(),
  pageCount: z.number().int(),
  stock: LabelStock,
  pdfPath: z.string(),
  nextFreeCell: z.number().int().nullable(),
});
export type LabelRun = z.infer<typeof LabelRun>;

/** What stands on one label, as `@corewright/labels` draws it. */
export const LabelText = z.object({
  code: CodeText,
  /** small, top right: which copy it is, or the place */
  corner: z.string(),
  /** large, right of the code: the grade */
  badge: z.string(),
  title: z.string(),
  subtitle: z.string(),
  facts: z.array(z.string()),
  foot: z.array(z.string()),
  warning: z.string().nullable(),
  /** the title is read from afar and takes the room of what is not said */
  prominent: z.boolean(),
  stock: LabelStock,
  copies: z.number().int(),
  printedBefore: z.number().int(),
});
export type LabelText = z.infer<typeof LabelText>;
export const CodeParam = z.strictObject({ code: CodeText });
export const CommandCardsQuery = z.strictObject({
  stock: LabelStock.default('A4 sheet'),
  dotsPerInch: z.coerce.number().pipe(DotsPerInch).default(300),
});
