import * as z from 'zod';
import { Coded, CodeText, Id, JobState, Quantity, UnitOfMeasure } from './base.js';
import { DotsPerInch, LabelStock } from './labels.js';
import { PartNamed } from './relations.js';

const jobsMax = 50;

/** `jobs` are ids of open jobs with commas between. */
export const PickListQuery = z.strictObject({
  jobs: z
    .string()
    .max(40 * jobsMax)
    .transform((text) => [...new Set(text.split(',').filter((id) => id !== ''))])
    .pipe(z.array(Id).min(1, 'Choose a job: the list is for one or more of them.').max(jobsMax)),
});
export type PickListQuery = z.infer<typeof PickListQuery>;

/** So much of what is fetched goes to this line. */
export const LineServed = z.object({ lineId: Id, lineNo: z.number().int(), quantity: Quantity });
export type LineServed = z.infer<typeof LineServed>;

/** How many of a thing are taken at a place, for one job's tray. */
export const PickRow = z.object({
  jobId: Id,
  thing: Coded,
  part: PartNamed,
  unitOfMeasure: UnitOfMeasure,
  quantity: Quantity,
  /** how many of the thing the job takes at all of its places together */
  inAll: Quantity,
  /** the part that is asked for where this one stands in its place, by a word that somebody gave; null for the part itself */
  inPlaceOf: PartNamed.nullable(),
  /** promised to the job by hand; else only counted on */
  isReserved: z.boolean(),
  lines: z.array(LineServed),
});
export type PickRow = z.infer<typeof PickRow>;

/** A place with everything that is taken there. */
export const PickStop = z.object({
  place: z.object({ id: Id, code: CodeText, name: z.string(), path: z.string() }),
  rows: z.array(PickRow),
});
export type PickStop = z.infer<typeof PickStop>;

/** What a person who kits a job asks of each piece of it. */
export const kitStates = [
  'in the unit',
  'in the tray',
  'to fetch',
  'offered',
  'not yet looked at',
  'at an outworker',
  'on order',
  'from a core',
  'out of reach',
  'lacking',
] as const;
export const KitState = z.enum(kitStates);
export type KitState = z.infer<typeof KitState>;

/** All lines that are counted in one unit of measure: what they need, and how it stands. */
export const KitSum = z.object({
  unitOfMeasure: UnitOfMeasure,
  needed: Quantity,
  shares: z.array(z.object({ state: KitState, quantity: Quantity })),
});
export type KitSum = z.infer<typeof KitSum>;

/** What a job needs and nobody can fetch now, with the reason in words. */
export const KitWait = LineServed.extend({
  part: PartNamed,
  unitOfMeasure: UnitOfMeasure,
  state: KitState,
  thing: Coded.nullable(),
  words: z.string(),
});
export type KitWait = z.infer<typeof KitWait>;

/** Stock of another part that might serve, if somebody said so. It is not fetched without that. */
export const KitOffer = LineServed.extend({
  part: PartNamed,
  unitOfMeasure: UnitOfMeasure,
  thing: Coded,
  instead: PartNamed,
  /** where it lies */
  where: z.string(),
  words: z.string(),
});
export type KitOffer = z.infer<typeof KitOffer>;

/** How far a job's tray is filled. */
export const JobKit = z.object({
  id: Id,
  code: CodeText,
  name: z.string(),
  state: JobState,
  tray: Coded,
  kit: z.enum(['nothing in the tray', 'partly kitted', 'kitted', 'nothing needed']),
  sums: z.array(KitSum),
  waits: z.array(KitWait),
  offers: z.array(KitOffer),
  /** of each line: what lies in the tray or is in the unit */
  taken: z.array(LineServed),
});
export type JobKit = z.infer<typeof JobKit>;

/** An offer for a job at the place where it lies. */
export const OfferHere = KitOffer.extend({ jobId: Id });
export type OfferHere = z.infer<typeof OfferHere>;

/** What to fetch for these jobs, place after place as one walks; and what of each cannot be fetched. */
export const PickList = z.object({
  /** in the order in which they are served */
  jobs: z.array(JobKit),
  stops: z.array(PickStop),
  /** what lies at a place and may be had only as another part, in walking order; told where somebody stands before it */
  offersAt: z.array(z.object({ place: PickStop.shape.place, offers: z.array(OfferHere) })),
  /** the names of those who may accept such a part */
  mayAccept: z.array(z.string()),
});
export type PickList = z.infer<typeof PickList>;

/** What is still missing from a tray; null where it is no tray of an open job. */
export const TrayKit = z.object({ job: JobKit.nullable() });
export type TrayKit = z.infer<typeof TrayKit>;

/** The label of a tray that says what is missing from it. */
export const TrayLabelQuery = z.strictObject({
  stock: LabelStock.default('tie-on tag'),
  dotsPerInch: z.coerce.number().pipe(DotsPerInch).default(300),
});
