import * as z from 'zod';
import { Coded, CodeInput, CodeText, Id, Instant, LongText, Make, Named, Quantity, RequiredText, ShortText } from './base.js';
import { DifferentNumbers, KeptSet, Stamped } from './kept-sets.js';
import { PictureShown } from './pictures.js';

/** What becomes of a component. */
export const dispositions = [
  're-use here',
  're-use after rework',
  'send out',
  'to stores',
  'replace',
  'hold',
  'scrap',
  'left in place',
] as const;
export const Disposition = z.enum(dispositions);
export type Disposition = z.infer<typeof Disposition>;

/** How what lay in the unit stands to what its type says lies there. */
export const StripKind = z.enum(['as expected', 'missing', 'extra', 'wrong']);
export type StripKind = z.infer<typeof StripKind>;

/** A word that findings are recorded with; one that is retired is no longer offered, and stays where it was used. */
export const FindingWord = z.object({ id: Id, word: z.string(), retired: z.boolean(), version: z.number().int() });
export type FindingWord = z.infer<typeof FindingWord>;
export const FindingWordList = z.object({ words: z.array(FindingWord) });
export const EditFindingWord = z.strictObject({ word: z.string().trim().min(1).max(40), retired: z.boolean().default(false) });
export type EditFindingWord = z.infer<typeof EditFindingWord>;

/** What a unit type expects of one component. */
export const TypeComponent = z.object({
  position: z.number().int(),
  name: z.string(),
  quantity: Quantity,
  /** what it is in stores; null while nobody has said */
  part: z.object({ id: Id, name: z.string(), number: z.string() }).nullable(),
  mustBeLookedAt: z.boolean(),
  usualFate: Disposition.nullable(),
  /** components of the type with the same words here stay together for good; empty for most */
  keptSet: z.string(),
  isMainCasing: z.boolean(),
  /** shims: each bag keeps its position and thickness */
  keepsThickness: z.boolean(),
  version: z.number().int(),
});
export type TypeComponent = z.infer<typeof TypeComponent>;
export const TypeComponentList = z.object({ components: z.array(TypeComponent) });
export const TypeComponentParam = z.strictObject({ id: Id, position: z.coerce.number().int().min(1).max(500) });
export const EditTypeComponent = z.strictObject({
  partId: Id.nullable(),
  mustBeLookedAt: z.boolean(),
  usualFate: Disposition.nullable(),
  keptSet: ShortText,
  isMainCasing: z.boolean(),
  keepsThickness: z.boolean(),
});
export type EditTypeComponent = z.infer<typeof EditTypeComponent>;

export const StripFinding = z.object({
  id: Id,
  position: z.number().int(),
  name: z.string(),
  kind: StripKind,
  quantity: Quantity,
  finding: z.string(),
  words: z.string(),
  disposition: Disposition.nullable(),
  /** false for what got the usual fate and was never looked at: it counts in no yield */
  lookedAt: z.boolean(),
  stamped: z.string(),
  thickness: z.string().nullable(),
  ownersWord: z.string(),
  /** what it became: a component with its tag, or a lot of stores */
  thing: Coded.nullable(),
  where: z.string(),
  by: z.string(),
  at: Instant,
  /** another finding stands in its place */
  superseded: z.boolean(),
  pictures: z.array(PictureShown),
});
export type StripFinding = z.infer<typeof StripFinding>;

export const StripComponent = TypeComponent.omit({ version: true }).extend({
  isExtra: z.boolean(),
  /** taken off its unit before this strip-down */
  takenBefore: z.array(Coded),
  /** lots that were fitted in the unit here and are in it still: the component is so many of them */
  fittedHere: z.array(Coded.extend({ quantity: Quantity })),
  /** how many of it have no fate yet */
  undecided: Quantity,
  /** how many of it somebody must still look at */
  toLookAt: Quantity,
  /** those that stand, oldest first, then those that were put right */
  findings: z.array(StripFinding),
});
export type StripComponent = z.infer<typeof StripComponent>;

export const StripDown = z.object({
  id: Id,
  unit: Coded,
  unitType: Named.nullable(),
  owner: Named.nullable(),
  job: Coded.nullable(),
  begunBy: z.string(),
  begunAt: Instant,
  closedBy: z.string().nullable(),
  closedAt: Instant.nullable(),
  /** who has recorded anything at it, in the order in which they first did */
  people: z.array(z.string()),
  components: z.array(StripComponent),
  keptSets: z.array(KeptSet),
});
export type StripDown = z.infer<typeof StripDown>;

/** The unit that this one's insides went into, or whose insides it has now. */
export const UnitLink = z.object({
  unit: Coded,
  marks: z.string(),
  direction: z.enum(['its insides went into', 'has the insides of']),
  words: z.string(),
  by: z.string(),
  at: Instant,
});
export type UnitLink = z.infer<typeof UnitLink>;

/** The latest strip-down of a unit; with none, why it cannot be begun, if it cannot. */
export const StripDownOfUnit = z.object({
  stripDown: StripDown.nullable(),
  cannotBegin: z.string().nullable(),
  links: z.array(UnitLink),
});
export type StripDownOfUnit = z.infer<typeof StripDownOfUnit>;

/** `forJobId`: the job that the unit was laid by for, where it gives parts to a job that is not its own. */
export const BeginStripDown = z.strictObject({ id: Id, forJobId: Id.nullable().default(null) });
export type BeginStripDown = z.infer<typeof BeginStripDown>;

/** An exception: what was seen of so many of a component, and what becomes of them. */
export const RecordStripFinding = z.strictObject({
  id: Id,
  /** null for something that the type does not expect */
  position: z.number().int().min(1).max(500).nullable(),
  /** said of an extra thing */
  name: ShortText.default(''),
  kind: StripKind.default('as expected'),
  quantity: Quantity,
  finding: ShortText.default(''),
  words: LongText.default(''),
  disposition: Disposition.nullable(),
  placeId: Id.nullable().default(null),
  /** whom it is sent to */
  firmId: Id.nullable().default(null),
  /** of an extra or a wrong component: the part that it turned out to be */
  partId: Id.nullable().default(null),
  /** the tag of a component of this unit that was taken off before */
  code: CodeInput.optional(),
  stamped: Stamped.default(''),
  /** of shims, as measured, in millimetres */
  thickness: Quantity.nullable().default(null),
  condition: ShortText.default(''),
  make: Make.default('unknown'),
  /** who of the owners said what may be done with a customer's goods, and when */
  ownersWord: ShortText.default(''),
  /** the finding that this one takes the place of */
  supersedesId: Id.nullable().default(null),
  different: DifferentNumbers.optional(),
});
export type RecordStripFinding = z.infer<typeof RecordStripFinding>;

/** `cost` is said in words: what came out of a unit carries a share of its cost, which may be unknown. */
export const StripFindingDone = z.object({
  finding: StripFinding,
  thing: Coded.nullable(),
  cover: z.string().nullable(),
  cost: z.string().nullable(),
  keptSet: z.string().nullable(),
  undecided: z.number().int(),
  toLookAt: z.array(z.string()),
});
export type StripFindingDone = z.infer<typeof StripFindingDone>;

export const GiveUsualFate = z.strictObject({
  /** where what is kept is put; what is used again here goes into the tray of the unit's job */
  placeId: Id.nullable().default(null),
  ownersWord: ShortText.default(''),
});
export type GiveUsualFate = z.infer<typeof GiveUsualFate>;
export const UsualFateGiven = z.object({
  given: z.array(z.object({ position: z.number().int(), name: z.string(), disposition: Disposition, thing: Coded.nullable() })),
  remaining: z.array(z.object({ position: z.number().int(), name: z.string(), why: z.string() })),
});
export type UsualFateGiven = z.infer<typeof UsualFateGiven>;

export const StripDownFinished = z.object({ id: Id, unit: Coded, stage: z.string(), words: z.string() });

/** The insides of this unit go on in another casing; both keep their own stamps. */
export const ReplaceCasing = z.strictObject({ id: Id, unitCode: CodeInput, why: RequiredText });
export type ReplaceCasing = z.infer<typeof ReplaceCasing>;
export const CasingReplaced = z.object({ id: Id, from: Coded, to: Coded, words: z.string() });

export const ComponentScan = z.object({ position: z.number().int(), code: CodeText, name: z.string() });
