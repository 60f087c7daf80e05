import * as z from 'zod';
import { BuildStandard, Id, Named, Quantity, UnitOfMeasure } from './base.js';
import { PartNamed } from './relations.js';

/** Which lines of the parts lists are asked for. */
export const LinesAsked = z.enum(['all', 'critical']);
/** Where the parts come from that may be used again: out of the core that is rebuilt, or out of stores as all others. */
export const OwnParts = z.enum(['used again', 'replaced']);

const typesMax = 50;

/** `types` are ids with commas between; without it, every type that has a core and a parts list. */
export const BuildableQuery = z.strictObject({
  types: z
    .string()
    .max(40 * typesMax)
    .default('')
    .transform((text) => text.split(',').filter((id) => id !== ''))
    .pipe(z.array(Id).max(typesMax)),
  standard: BuildStandard.default('serviceable'),
  lines: LinesAsked.default('all'),
  own: OwnParts.default('used again'),
});
export type BuildableQuery = z.infer<typeof BuildableQuery>;

export const LackingPart = z.object({ part: PartNamed, quantity: Quantity, unitOfMeasure: UnitOfMeasure });
export type LackingPart = z.infer<typeof LackingPart>;

/** What of one type the plan builds, and what one more of it would lack on top of the whole plan. */
export const BuildableType = z.object({
  unitType: Named,
  cores: z.number().int(),
  builds: z.number().int(),
  lacking: z.object({ cores: z.number().int(), parts: z.array(LackingPart) }),
  words: z.string(),
});
export type BuildableType = z.infer<typeof BuildableType>;

export const Buildable = z.object({ types: z.array(BuildableType), total: z.number().int(), words: z.string() });
export type Buildable = z.infer<typeof Buildable>;
