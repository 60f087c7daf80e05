import * as z from 'zod';
import { Coded, Id, PlainDate, Quantity } from './base.js';
import { InsteadOfPart, SubstituteShown } from './substitutes.js';

/** In the order of comfort: the nearer to the unit, the more certain. */
export const coverStates = [
  'fitted',
  're-used',
  'picked',
  'reserved',
  'not yet looked at',
  'free in stores',
  'at an outworker',
  'on order',
  'from a core',
  'lacking',
] as const;
export const CoverState = z.enum(coverStates);
export type CoverState = z.infer<typeof CoverState>;

/** A share of a line's quantity in one state, with what it rests on. */
export const CoverShare = z.object({
  state: CoverState,
  quantity: Quantity,
  /** what was found: a lot, a receipt, the unit; null where nothing was */
  on: Coded.nullable(),
  receiptId: Id.nullable(),
  dueOn: PlainDate.nullable(),
  confirmed: z.boolean().nullable(),
  words: z.string(),
  /** where another part covers it than the line asks for */
  instead: InsteadOfPart.nullable(),
  /** where the line has reserved it, what it is released by, and the last day on which it holds; null where it is only counted, or lies in the tray */
  reservation: z.object({ claimId: Id.nullable(), expectedClaimId: Id.nullable(), until: PlainDate.nullable() }).nullable(),
  /** it is counted on and free to be reserved for the line */
  canReserve: z.boolean(),
});
export type CoverShare = z.infer<typeof CoverShare>;

/** What a line could use and another job has, or is served with first. */
export const Elsewhere = z.object({
  job: Coded,
  /** null where it is an order */
  thing: Coded.nullable(),
  receiptId: Id.nullable(),
  quantity: Quantity,
  how: z.enum(['in its tray', 'reserved', 'goes to it first']),
  words: z.string(),
});
export type Elsewhere = z.infer<typeof Elsewhere>;

export const CoveredLine = z.object({
  id: Id,
  lineNo: z.number().int(),
  part: z.object({ id: Id, name: z.string(), number: z.string(), unitOfMeasure: z.string() }),
  needed: Quantity,
  operationId: Id,
  critical: z.boolean(),
  reusable: z.boolean(),
  further: z.boolean(),
  waived: z.string().nullable(),
  /** its part goes by the container: no job waits for it, and it is never lacking */
  consumable: z.boolean(),
  version: z.number().int(),
  /** worst state among the shares */
  state: CoverState,
  shares: z.array(CoverShare),
  /** a critical line that is lacking stops the job */
  stops: z.boolean(),
  /** what was looked for and where, said when something is lacking or was refused */
  looked: z.array(z.string()),
  /** who has, or goes before it for, what this line could use */
  elsewhere: z.array(Elsewhere),
  /** parts accepted in its place for this job */
  substitutes: z.array(SubstituteShown),
  fittedFrom: z.array(
    z.object({
      fittingId: Id,
      thing: Coded,
      quantity: Quantity,
      inPlaceOf: z.boolean(),
      why: z.string().nullable(),
      evidence: z.string().nullable(),
      override: z.string().nullable(),
      by: z.string(),
      at: z.string(),
    }),
  ),
});
export type CoveredLine = z.infer<typeof CoveredLine>;

export const ChainLink = z.object({
  kind: z.enum(['receipt', 'work', 'find', 'inspection', 'calendar', 'start']),
  sentence: z.string(),
  date: PlainDate,
  assumed: z.boolean(),
});

/** The earliest date, firm, "if" or none. */
export const Advice = z.object({
  kind: z.enum(['firm', 'if', 'none', 'done']),
  date: PlainDate.nullable(),
  sentence: z.string(),
  /** an "if" date's conditions, in words */
  conditions: z.array(z.string()),
  chain: z.array(ChainLink),
  /** with no date: what to find; and, for each, the date that would hold if it were found by a day */
  toFind: z.array(z.object({ lineId: Id, lineNo: z.number().int(), name: z.string(), number: z.string(), quantity: Quantity })),
  ifFound: z.object({ by: PlainDate, date: PlainDate }).nullable(),
  reckonedOn: PlainDate,
});
export type Advice = z.infer<typeof Advice>;

export const Coverage = z.object({
  lines: z.array(CoveredLine),
  counts: z.record(z.string(), z.number().int()),
  advice: Advice,
});
export type Coverage = z.infer<typeof Coverage>;
