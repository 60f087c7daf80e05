import * as z from 'zod';
import {
  BuildStandard,
  Coded,
  CodeInput,
  CodeText,
  Cursor,
  Id,
  Instant,
  JobState,
  LongText,
  Named,
  PlainDate,
  Quantity,
  RequiredText,
  ShortText,
} from './base.js';
import { Advice, Coverage } from './coverage.js';
import { PictureShown } from './pictures.js';

export const OpenJob = z.strictObject({
  id: Id,
  unitCode: CodeInput,
  customerName: ShortText.default(''),
  title: ShortText.default(''),
  wanted: LongText.default(''),
  buildStandard: BuildStandard,
  priority: z.number().int().min(1).max(5).default(3),
});
export const EditJob = z.strictObject({
  title: RequiredText,
  wanted: LongText,
  buildStandard: BuildStandard,
  priority: z.number().int().min(1).max(5),
  state: JobState,
});

export const JobBrief = z.object({
  id: Id,
  code: CodeText,
  title: z.string(),
  customer: Named.nullable(),
  unit: Coded,
  state: JobState,
  priority: z.number().int(),
  openedOn: PlainDate,
  dateGiven: PlainDate.nullable(),
  lineCount: z.number().int(),
  fittedLineCount: z.number().int(),
  /** how far its tray is filled, by what lies in it */
  kit: z.enum(['nothing in the tray', 'partly kitted', 'kitted']),
});
export type JobBrief = z.infer<typeof JobBrief>;
export const JobList = z.object({ jobs: z.array(JobBrief), cursor: z.string().nullable() });
export const JobQuery = z.strictObject({
  state: JobState.optional(),
  open: z.enum(['yes', 'no']).optional(),
  limit: z.coerce.number().int().min(1).max(200).default(100),
  cursor: Cursor.optional(),
});

export const Operation = z.object({
  id: Id,
  number: z.number().int(),
  name: z.string(),
  minutesPlanned: z.number().int(),
  minutesLeft: z.number().int(),
  after: z.array(z.number().int()),
  version: z.number().int(),
});
export type Operation = z.infer<typeof Operation>;

export const DateGiven = z.object({
  id: Id,
  given: PlainDate,
  againstAdvice: z.boolean(),
  reason: z.string().nullable(),
  by: z.string(),
  at: Instant,
  advised: Advice.pick({ kind: true, date: true, sentence: true }),
});
export const RecordEntry = z.object({
  at: Instant,
  by: z.string(),
  words: z.string(),
  kind: z.enum(['date', 'fitting', 'finding', 'override', 'line', 'job', 'substitute', 'reservation']),
});

export const JobCard = JobBrief.extend({
  version: z.number().int(),
  wanted: z.string(),
  buildStandard: BuildStandard,
  tray: Coded,
  unitFacts: z.object({
    unitType: z.string(),
    grade: z.string(),
    marks: z.string(),
    owner: z.string(),
    weightKg: z.string().nullable(),
    where: z.string(),
  }),
  /** of the unit and of the job itself, newest first */
  pictures: z.array(PictureShown),
  operations: z.array(Operation),
  coverage: Coverage,
  dates: z.array(DateGiven),
  record: z.array(RecordEntry),
});
export type JobCard = z.infer<typeof JobCard>;

export const AddJobLine = z.strictObject({
  id: Id,
  partId: Id,
  quantity: z.string().trim().min(1).max(20),
  operationId: Id,
  critical: z.boolean(),
});
export const WaiveJobLine = z.strictObject({ reason: RequiredText });
export const LineAdded = z.object({ id: Id, lineNo: z.number().int() });
export const EditOperation = z.strictObject({ minutesLeft: z.number().int().min(0).max(1_000_000) });
export const RecordFinding = z.strictObject({
  quantityReused: Quantity,
  quantityReplaced: Quantity,
  words: ShortText.default(''),
});
export const GiveDate = z.strictObject({ given: PlainDate, reason: ShortText.default('') });
export const JobChanged = z.object({ id: Id, version: z.number().int() });
export const OperationParam = z.strictObject({ id: Id, operationId: Id });
export const LineParam = z.strictObject({ id: Id, lineId: Id });
