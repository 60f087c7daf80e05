import * as z from 'zod';
import { BuildStandard, Id, Instant, LongText, Quantity, RequiredText, UnitOfMeasure } from './base.js';

/**
 * How one part stands to another. `supersession`: the first became the second. `same as`: each is the other. `will serve for`: the
 * first may be fitted in place of the second, and not the other way about.
 */
export const RelationKind = z.enum(['supersession', 'same as', 'will serve for']);
export const EvidenceKind = z.enum(['catalogue', 'measured', 'trial fitted', 'told']);
export type RelationKind = z.infer<typeof RelationKind>;
export type EvidenceKind = z.infer<typeof EvidenceKind>;

/** When a supersession began, as closely as anybody knows: a year, a month of it, a day. */
export const Since = z
  .string()
  .regex(/^\d{4}(-(0[1-9]|1[0-2])(-(0[1-9]|[12]\d|3[01]))?)?$/, 'Key a year, such as 1951, or year-month, or year-month-day.');

/** A part named by the number that it goes by. */
export const PartNamed = z.object({ id: Id, name: z.string(), number: z.string(), maker: z.string() });
export type PartNamed = z.infer<typeof PartNamed>;

export const RelationShown = z.object({
  id: Id,
  kind: RelationKind,
  from: PartNamed,
  to: PartNamed,
  /** one of several parts that together take the place of the first */
  isKit: z.boolean(),
  conditions: z.string(),
  /** in what two parts that are called the same are known to differ by the table of bearings; else empty */
  doubt: z.string(),
  since: z.string().nullable(),
  evidence: z.object({ kind: EvidenceKind, words: z.string() }),
  acceptedBy: z.string(),
  acceptedAt: Instant,
  withdrawn: z.object({ by: z.string(), at: Instant, why: z.string() }).nullable(),
  /** "48-2117 became 48-2217 in 1946." */
  words: z.string(),
});
export type RelationShown = z.infer<typeof RelationShown>;
export const RelationList = z.object({ relations: z.array(RelationShown) });

/** A relation from the part of the address to these. A supersession by a kit names several; all else names one. */
export const RecordRelation = z.strictObject({
  kind: RelationKind,
  toPartIds: z.array(Id).min(1, 'Say which part.').max(20, 'A kit of more than 20 parts is not taken.'),
  conditions: LongText.default(''),
  since: Since.nullable().default(null),
  evidence: z.strictObject({ kind: EvidenceKind, words: RequiredText }),
});
export type RecordRelation = z.infer<typeof RecordRelation>;
export const WithdrawRelation = z.strictObject({ why: RequiredText });

/** What a superseded part has become: the parts on the way, and those that are current at its end. */
export const Successor = z.object({ chain: z.array(PartNamed), current: z.array(PartNamed), words: z.string() });
export type Successor = z.infer<typeof Successor>;

/** How a part comes to serve in place of another. */
export const ServesAs = z.enum(['itself', 'same as', 'superseding', 'will serve for', 'in a kit']);
/** Why a part that a relation leads to is no candidate. */
export const WhyNot = z.enum([
  'older',
  'one way',
  'second will serve for',
  'beyond will serve for',
  'withdrawn',
  'not by this standard',
]);
export type ServesAs = z.infer<typeof ServesAs>;
export type WhyNot = z.infer<typeof WhyNot>;

/** What may be fitted in place of a part, each with its path and its stock; and what was looked at and refused, with the reason. */
export const MayServeQuery = z.strictObject({ standard: BuildStandard.optional() });
export const MayServe = z.object({
  part: PartNamed,
  /** the build standard that was asked about; null for any */
  standard: BuildStandard.nullable(),
  candidates: z.array(
    z.object({
      part: PartNamed,
      as: ServesAs,
      words: z.string(),
      path: z.array(RelationShown),
      conditions: z.array(z.string()),
      /** what of a kit must be fitted together with it */
      together: z.array(PartNamed),
      /** of what the build standard accepts, where one was asked about */
      free: Quantity,
      unitOfMeasure: UnitOfMeasure,
      places: z.string(),
      /** lots that the build standard does not accept, each with why */
      declined: z.array(z.string()),
    }),
  ),
  refused: z.array(z.object({ part: PartNamed, why: WhyNot, words: z.string(), path: z.array(RelationShown) })),
  /** false where so much hangs together that only the nearest of it was looked at */
  complete: z.boolean(),
});
export type MayServe = z.infer<typeof MayServe>;
