import * as z from 'zod';
import { BuildStandard, Coded, Id, Named, Quantity, UnitOfMeasure } from './base.js';
import { PartNamed } from './relations.js';

/** Which lines of the parts lists are asked for. */
export const LinesAsked = z.enum(['all', 'critical']);
/** Where the parts come from that may be used again: out of the core that is rebuilt, or out of stores as all others. */
export const OwnParts = z.enum(['used again', 'replaced']);
/** Whether cores may be broken for what they surely give, or only built on. */
export const DonorsAsked = z.enum(['left whole', 'broken']);

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
  donors: DonorsAsked.default('left whole'),
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

/** Cores of one type that the plan breaks, and at the least how many good pieces they give together of each part that is asked for. */
export const BrokenCores = z.object({
  unitType: Named,
  units: z.array(Coded),
  gives: z.array(z.object({ part: PartNamed, pieces: z.number().int() })),
});
export type BrokenCores = z.infer<typeof BrokenCores>;

/** What the plan rests on that nobody has seen yet. `resting`: so many rebuilds less with every core left whole. */
export const OnDonors = z.object({ resting: z.number().int(), broken: z.array(BrokenCores), words: z.string() });
export type OnDonors = z.infer<typeof OnDonors>;

export const Buildable = z.object({
  types: z.array(BuildableType),
  total: z.number().int(),
  words: z.string(),
  /** null where cores are left whole */
  donors: OnDonors.nullable(),
});
export type Buildable = z.infer<typeof Buildable>;
