import * as z from 'zod';
import { BuildStandard, Coded, Id, PlainDate, Quantity } from './base.js';
import { Advice, CoverShare, CoverState, Elsewhere } from './coverage.js';

const daysMax = 3650;

/** Something that is only supposed: nothing of it stands in the books. */
export const Supposition = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('first'), jobId: Id }),
  z.strictObject({ kind: z.literal('standard'), jobId: Id, standard: BuildStandard }),
  /** a whole core is broken, and gives what is to be expected of it, or all that its type has */
  z.strictObject({ kind: z.literal('core'), unitId: Id, gives: z.enum(['expected', 'all']) }),
  z.strictObject({ kind: z.literal('order-late'), receiptId: Id, days: z.coerce.number().int().min(1).max(daysMax) }),
  z.strictObject({ kind: z.literal('order-on'), receiptId: Id, on: PlainDate }),
  z.strictObject({ kind: z.literal('order-never'), receiptId: Id }),
  z.strictObject({ kind: z.literal('instead'), lineId: Id, partId: Id }),
  /** for every open line that asks for the one part the other is accepted */
  z.strictObject({ kind: z.literal('instead-everywhere'), forPartId: Id, partId: Id }),
]);
export type Supposition = z.infer<typeof Supposition>;

export const suppositionsMax = 12;

/** In the order in which they stand in an address. */
const fields: Readonly<Record<Supposition['kind'], readonly string[]>> = {
  first: ['jobId'],
  standard: ['jobId', 'standard'],
  core: ['unitId', 'gives'],
  'order-late': ['receiptId', 'days'],
  'order-on': ['receiptId', 'on'],
  'order-never': ['receiptId'],
  instead: ['lineId', 'partId'],
  'instead-everywhere': ['forPartId', 'partId'],
};

/** Suppositions as an address keeps them: `first.ID,order-late.ID.14`. */
export function writeSuppositions(suppositions: readonly Supposition[]): string {
  return suppositions
    .map((each) => {
      const values: Readonly<Record<string, unknown>> = each;
      return [each.kind, ...fields[each.kind].map((field) => values[field])].join('.');
    })
    .join(',');
}

function partsOf(text: string): Record<string, string> {
  const [kind = '', ...values] = text.split('.');
  const names = fields[kind as Supposition['kind']] ?? [];
  // a value too many is kept, so that it is refused
  return Object.fromEntries([['kind', kind], ...values.map((value, index) => [names[index] ?? `further ${index}`, value])]);
}

/** What an address says; null where it is no question of this kind. */
export function readSuppositions(text: string): readonly Supposition[] | null {
  if (text === '') return [];
  const read = z.array(Supposition).max(suppositionsMax).safeParse(text.split(',').map(partsOf));
  return read.success ? read.data : null;
}

export const WhatIfQuery = z.strictObject({
  suppose: z
    .string()
    .min(1, 'Suppose something first.')
    .max(160 * suppositionsMax)
    .transform((text, context): readonly Supposition[] => {
      const read = readSuppositions(text);
      if (read !== null) return read;
      context.addIssue({ code: 'custom', message: 'This cannot be supposed. Choose each supposition from the list again.' });
      return z.NEVER;
    }),
});
export type WhatIfQuery = z.infer<typeof WhatIfQuery>;

/** How something would stand against how it stands: nearer to the unit, further away, some of each, or as good from elsewhere. */
export const Turn = z.enum(['better', 'worse', 'both', 'otherwise']);
export type Turn = z.infer<typeof Turn>;

export const LineStanding = z.object({
  state: CoverState,
  shares: z.array(CoverShare),
  stops: z.boolean(),
  elsewhere: z.array(Elsewhere),
});
export type LineStanding = z.infer<typeof LineStanding>;

export const WhatIfLine = z.object({
  id: Id,
  lineNo: z.number().int(),
  part: z.object({ id: Id, name: z.string(), number: z.string(), unitOfMeasure: z.string() }),
  needed: Quantity,
  critical: z.boolean(),
  turn: Turn,
  before: LineStanding,
  after: LineStanding,
});
export type WhatIfLine = z.infer<typeof WhatIfLine>;

export const JobStanding = z.object({
  /** how many lines stand in each state, each by its worst */
  counts: z.record(z.string(), z.number().int()),
  /** critical lines that are lacking */
  stops: z.number().int(),
  advice: Advice.pick({ kind: true, date: true, sentence: true, conditions: true, toFind: true }),
});
export type JobStanding = z.infer<typeof JobStanding>;

/** A job for which something would be different. */
export const WhatIfJob = z.object({
  job: Coded,
  /** its place in the order in which jobs are served, as it is and as it would be */
  place: z.object({ before: z.number().int(), after: z.number().int() }),
  dateGiven: PlainDate.nullable(),
  turn: Turn,
  /** null where the date stays */
  dateTurn: Turn.nullable(),
  before: JobStanding,
  after: JobStanding,
  /** only those whose cover would be different */
  lines: z.array(WhatIfLine),
});
export type WhatIfJob = z.infer<typeof WhatIfJob>;

export const WhatIf = z.object({
  /** as asked, each in words */
  supposed: z.array(z.object({ supposition: Supposition, words: z.string() })),
  openJobs: z.number().int(),
  counts: z.record(Turn, z.number().int()),
  /** in the order in which they would be served */
  jobs: z.array(WhatIfJob),
  words: z.string(),
});
export type WhatIf = z.infer<typeof WhatIf>;
