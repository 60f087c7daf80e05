import * as z from 'zod';
import { Coded, Id, PlainDate, Quantity } from './base.js';
import { CoverShare, CoverState, Elsewhere } from './coverage.js';

/** Why a part is on the board. */
export const PartTrouble = z.enum(['lacking', 'wanted by several', 'order late', 'rests on a core']);
export type PartTrouble = z.infer<typeof PartTrouble>;

/** A line that asks for the part. */
export const AskingCell = z.object({
  jobId: Id,
  lineId: Id,
  lineNo: z.number().int(),
  needed: Quantity,
  critical: z.boolean(),
  stops: z.boolean(),
  /** the worst */
  state: CoverState,
  shares: z.array(CoverShare.pick({ state: true, quantity: true })),
  /** who has, or goes before it for, what it could use */
  elsewhere: z.array(Elsewhere),
  /** an order that it rests on is overdue, or comes after the day that its customer was told */
  late: z.string(),
});
export type AskingCell = z.infer<typeof AskingCell>;

export const PartOnBoard = z.object({
  part: z.object({ id: Id, name: z.string(), number: z.string(), unitOfMeasure: z.string() }),
  troubles: z.array(PartTrouble),
  /** of the part itself, and of those that may serve in its place */
  there: z.object({ free: Quantity, promised: Quantity, coming: Quantity, inCores: Quantity, beside: Quantity }),
  /** in the order in which the jobs are served */
  cells: z.array(AskingCell),
});
export type PartOnBoard = z.infer<typeof PartOnBoard>;

export const ByPart = z.object({
  openJobs: z.number().int(),
  /** those with a line on the board, in the order in which they are served */
  jobs: z.array(Coded.extend({ place: z.number().int(), priority: z.number().int(), dateGiven: PlainDate.nullable() })),
  /** what stops a job first */
  parts: z.array(PartOnBoard),
});
export type ByPart = z.infer<typeof ByPart>;
