import * as z from 'zod';
import { Id, Named } from './base.js';

/** In the place of a grade: units that were never graded. */
export const notGraded = 'not graded';

const yieldsWantedMax = 100;

/** Whose cores are asked about; whatever is left out is not asked for. `wanted`: for how many good ones cores are to be bought. */
export const YieldsQuery = z.strictObject({
  type: Id.optional(),
  grade: z.string().trim().min(1).max(20).optional(),
  load: Id.optional(),
  seller: Id.optional(),
  wanted: z.coerce.number().int().min(1).max(yieldsWantedMax).default(1),
});
export type YieldsQuery = z.infer<typeof YieldsQuery>;

/** How often one component was serviceable, of pieces that somebody looked at. */
export const ComponentYieldShown = z.object({
  unitType: Named,
  position: z.number().int(),
  name: z.string(),
  /** what it is in stores; null while nobody has said */
  part: z.object({ id: Id, name: z.string(), number: z.string() }).nullable(),
  /** how many of it a unit has */
  eachHas: z.number().int(),
  looked: z.number().int(),
  serviceable: z.number().int(),
  /** not serviceable as they came out, but after work */
  afterWork: z.number().int(),
  /** of a hundred: what is to be expected of the next one, and between which the share lies with the confidence, rounded outward */
  inHundred: z.object({ least: z.number().int(), mean: z.number().int(), most: z.number().int() }),
  /** false: too few were looked at for the range to say anything */
  enough: z.boolean(),
  /** cores to buy for as many good ones as are wanted; null where too few were looked at, or no number of cores would do */
  cores: z.number().int().nullable(),
  words: z.string(),
});
export type ComponentYieldShown = z.infer<typeof ComponentYieldShown>;

export const Yields = z.object({
  /** worst first; what nobody has looked at enough comes last */
  components: z.array(ComponentYieldShown),
  /** there are more than these */
  more: z.boolean(),
  /** how often units were taken apart, of those that are asked about */
  stripDowns: z.number().int(),
  wanted: z.number().int(),
});
export type Yields = z.infer<typeof Yields>;

/** What can be asked for: only what has been taken apart. */
export const YieldChoices = z.object({
  unitTypes: z.array(Named),
  grades: z.array(z.string()),
  loads: z.array(Named),
  sellers: z.array(Named),
});
export type YieldChoices = z.infer<typeof YieldChoices>;
