import * as z from 'zod';
import { Coded, CodeInput, CodeText, Id, Instant, Quantity, RequiredText, ShortText } from './base.js';

/**
 * A scan onto a job, in mode pick or fit. Without a quantity it takes what the line still lacks. The further members
 * answer an earlier refusal: each is somebody's decision and stays on the record with their name.
 */
export const JobScan = z.strictObject({
  code: CodeInput,
  jobId: Id,
  quantity: Quantity.optional(),
  occurredAt: Instant.optional(),
  lineId: Id.optional(),
  inPlaceOf: z.strictObject({ lineId: Id, why: RequiredText, evidence: RequiredText }).optional(),
  furtherLine: z.strictObject({ operationId: Id, critical: z.boolean(), why: RequiredText }).optional(),
  haveItHere: z.boolean().optional(),
  /** no container of a consumable is open: this one is opened */
  openOne: z.boolean().optional(),
  override: z.strictObject({ reason: RequiredText }).optional(),
});
export type JobScan = z.infer<typeof JobScan>;

export const LineProgress = z.object({
  id: Id,
  lineNo: z.number().int(),
  name: z.string(),
  needed: Quantity,
  fitted: Quantity,
  reused: Quantity,
  picked: Quantity,
  stillToCome: Quantity,
});

export const JobScanDone = z.object({
  actId: Id,
  fittingId: Id.nullable(),
  act: z.enum(['picked', 'fitted', 're-used', 'used']),
  thing: Coded,
  quantity: Quantity,
  /** null for a whole unit laid by for the job */
  line: LineProgress.nullable(),
  found: z.boolean(),
  /** what else came of it, in words: a claim of another job that moved to equal stock */
  notice: z.string().nullable().default(null),
  at: Instant,
});
export type JobScanDone = z.infer<typeof JobScanDone>;

/** Why a scan was stopped. The problem document's `code` is one of these; its `values` are a `ScanRefusal`. */
export const ScanRefusalCode = z.enum([
  'not-on-this-job',
  'line-is-full',
  'claimed-for-another-job',
  'past-storage-life',
  'undated-rubber',
  'held-back',
  'condemned',
  'kept-for-owner',
  'goods-of-another-customer',
  'none-left',
  'not-enough',
  'unnamed',
  'not-accepted-by-line',
  'not-accepted-yet',
  'job-closed',
  'cannot-be-fitted',
  'kept-set-elsewhere',
  'not-picked',
  'not-charged-by-use',
  'none-open',
  'past-use-by',
]);
export type ScanRefusalCode = z.infer<typeof ScanRefusalCode>;

export const RefusalChoice = z.object({
  kind: z.enum(['quarantine', 'in-place-of', 'further-line', 'have-it-here', 'override', 'pick-another', 'quantity', 'open-one']),
  words: z.string(),
  detail: z.string(),
});
export const ScanRefusal = z.object({
  jobId: Id,
  thing: Coded.nullable(),
  choices: z.array(RefusalChoice),
  lines: z.array(z.object({ id: Id, lineNo: z.number().int(), name: z.string(), stillToCome: Quantity })),
  operations: z.array(z.object({ id: Id, number: z.number().int(), name: z.string() })),
  /** a line that the part may serve in place of its own, with what stands on the record for it */
  suggested: z.object({ lineId: Id, why: z.string(), evidence: z.string() }).nullable(),
  otherJob: Coded.nullable(),
  instead: z.array(Coded),
});
export type ScanRefusal = z.infer<typeof ScanRefusal>;

export const Act = z.object({
  id: Id,
  at: Instant,
  act: z.enum(['picked', 'fitted', 're-used', 'used', 'taken back', 'removed', 'put back', 'refused']),
  code: CodeText.nullable(),
  name: z.string(),
  quantity: Quantity.nullable(),
  by: z.string(),
  lineNo: z.number().int().nullable(),
  fittingId: Id.nullable(),
  canBeTakenBack: z.boolean(),
  struckOut: z.boolean(),
  words: z.string(),
});
export type Act = z.infer<typeof Act>;
export const ActList = z.object({ acts: z.array(Act) });

export const TakeBack = z.strictObject({ occurredAt: Instant.optional(), why: ShortText.default('scanned by mistake') });
export const TakenBack = z.object({
  actId: Id,
  act: z.literal('taken back'),
  thing: Coded,
  quantity: Quantity,
  words: z.string(),
});

/** A fitted part comes out again: it becomes a new lot, fitted once. */
export const TakeOut = z.strictObject({ lotId: Id, quantity: Quantity, placeId: Id, why: RequiredText });
export const TakenOut = z.object({ actId: Id, act: z.literal('removed'), thing: Coded, quantity: Quantity });
