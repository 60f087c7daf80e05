import * as z from 'zod';
import { Id, Instant, RequiredText, ShortText } from './base.js';
import { ServingWay } from './build-standards.js';
import { EvidenceKind, PartNamed, RelationShown } from './relations.js';

const Length = z.string().trim().max(20, 'Key a length such as 31.75, 1.25 in or 1 1/4.').default('');

/** A part accepted in place of what one line of one job asks for, in the name of who is signed in. */
export const AcceptSubstitute = z.strictObject({
  id: Id,
  partId: Id,
  /** what stands on the old one; empty where nothing can be read any more */
  marking: ShortText.default(''),
  /** as keyed, of the old one: "25", "1 1/4", "0.9843 in"; empty where it was not measured */
  bore: Length,
  outside: Length,
  width: Length,
  evidence: z.strictObject({ kind: EvidenceKind, words: RequiredText }),
  /** in what it differs from the one that is asked for */
  deviation: ShortText.default(''),
  /** where in the unit it goes */
  position: RequiredText,
  /** also put "will serve for" on the record, for every job */
  forEveryJob: z.boolean(),
});
export type AcceptSubstitute = z.infer<typeof AcceptSubstitute>;

export const SubstituteShown = z.object({
  id: Id,
  part: PartNamed,
  marking: z.string(),
  /** "25 × 52 × 15 mm"; empty where nothing was measured */
  measured: z.string(),
  evidence: z.object({ kind: EvidenceKind, words: z.string() }),
  deviation: z.string(),
  position: z.string(),
  relationId: Id.nullable(),
  acceptedBy: z.string(),
  acceptedAt: Instant,
});
export type SubstituteShown = z.infer<typeof SubstituteShown>;

export const SubstituteAccepted = z.object({
  substitute: SubstituteShown,
  /** what holds for every job from now on; null where it was accepted for this job alone */
  relation: RelationShown.nullable(),
});
export type SubstituteAccepted = z.infer<typeof SubstituteAccepted>;

/** What covers a line in place of the part that it asks for. */
export const InsteadOfPart = z.object({
  part: PartNamed,
  as: ServingWay,
  words: z.string(),
  conditions: z.string(),
  /** whether it may be fitted without a further word: the same, superseding, or accepted for this line by somebody */
  isAccepted: z.boolean(),
});
export type InsteadOfPart = z.infer<typeof InsteadOfPart>;

/** The lines of open jobs that ask for a part and are not complete: where a substitute may be accepted. */
export const AskingLines = z.object({
  lines: z.array(
    z.object({
      lineId: Id,
      lineNo: z.number().int(),
      jobId: Id,
      jobCode: z.string(),
      jobTitle: z.string(),
      part: PartNamed,
      position: z.string(),
    }),
  ),
});
export type AskingLines = z.infer<typeof AskingLines>;
