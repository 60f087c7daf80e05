import * as z from 'zod';
import { Id } from './base.js';

/** The files that can be brought in, in the order in which they are read. Columns are documented in docs/imports.md. */
export const importFiles = [
  'people',
  'makers',
  'firms',
  'grades',
  'label-printers',
  'closed-days',
  'places',
  'count-schedule',
  'parts',
  'part-numbers',
  'count-marks',
  'minimums',
  'bearing-suffixes',
  'bearings',
  'relations',
  'unit-types',
  'unit-type-components',
  'unit-type-acceptance',
  'unit-type-shares',
  'unit-type-operations',
  'unit-type-lines',
  'unit-type-signs',
  'unit-type-serials',
  'unit-type-teeth',
  'consumables',
  'loads',
  'units',
  'lots',
  'unsorted',
  'kept-for-jobs',
  'jobs',
  'job-operations',
  'job-findings',
  'job-fittings',
  'job-waivers',
  'receipts',
] as const;
export type ImportFile = (typeof importFiles)[number];

/** The files that can be taken out; each can be brought in again. */
export const exportFiles = [
  'makers',
  'firms',
  'grades',
  'places',
  'count-schedule',
  'parts',
  'part-numbers',
  'count-marks',
  'minimums',
  'bearing-suffixes',
  'bearings',
  'relations',
  'unit-types',
  'unit-type-components',
  'unit-type-acceptance',
  'unit-type-shares',
  'unit-type-operations',
  'unit-type-lines',
  'unit-type-signs',
  'unit-type-serials',
  'unit-type-teeth',
  'consumables',
  'loads',
  'units',
  'lots',
  'kept-for-jobs',
] as const satisfies readonly ImportFile[];
export type ExportFile = (typeof exportFiles)[number];
/** Records that are only taken out, for whoever keeps the accounts. */
export const recordFiles = ['sales'] as const;
export type RecordFile = (typeof recordFiles)[number];
export const ExportParam = z.strictObject({ file: z.enum([...exportFiles, ...recordFiles]) });

/** How far the import that is under way has come; null where none is. */
export const ImportUnderWay = z.object({
  underWay: z
    .object({
      id: Id,
      by: z.string(),
      isTrial: z.boolean(),
      beganAt: z.iso.datetime(),
      /** the file that is being read; empty before the first */
      file: z.string(),
      /** of all files */
      rows: z.number().int(),
      bytesRead: z.number().int(),
      bytesTotal: z.number().int(),
      isStopping: z.boolean(),
    })
    .nullable(),
});
export type ImportUnderWay = z.infer<typeof ImportUnderWay>;

export const ImportQuery = z.strictObject({ apply: z.enum(['yes', 'no']).default('no') });
export const ImportFault = z.object({
  file: z.string(),
  line: z.number().int(),
  column: z.string(),
  value: z.string(),
  words: z.string(),
});
export type ImportFault = z.infer<typeof ImportFault>;
export const ImportReport = z.object({
  id: Id,
  applied: z.boolean(),
  files: z.array(
    z.object({
      file: z.string(),
      encoding: z.string(),
      rows: z.number().int(),
      added: z.number().int(),
      unchanged: z.number().int(),
      faults: z.number().int(),
    }),
  ),
  /** The first 500; `faultsTotal` says how many there are. */
  faults: z.array(ImportFault),
  faultsTotal: z.number().int(),
  /** What stands otherwise in the books and was left as it is, and what looks odd but was taken: the first 500. */
  notes: z.array(ImportFault),
});
export type ImportReport = z.infer<typeof ImportReport>;
