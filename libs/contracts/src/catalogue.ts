import * as z from 'zod';
import { Cursor, Id, LongText, Material, Named, Quantity, RequiredText, ShortText, StorageLife, UnitOfMeasure } from './base.js';
import { RelationShown, Successor } from './relations.js';

export const PartNumber = z.object({
  maker: z.string(),
  number: z.string(),
  yearFirst: z.number().int().nullable(),
  yearLast: z.number().int().nullable(),
  isMain: z.boolean(),
});
export type PartNumber = z.infer<typeof PartNumber>;

/** A part as shown in a list to choose from. */
export const PartBrief = z.object({
  id: Id,
  name: z.string(),
  number: z.string(),
  maker: z.string(),
  material: z.string(),
  unitOfMeasure: UnitOfMeasure,
  matchedNumber: z.string().nullable(),
  free: Quantity,
});
export type PartBrief = z.infer<typeof PartBrief>;

/** How near a found part comes to what was keyed, the nearest first. `one error`: one character wrong, missing, too many, or two swapped. */
export const PartMatch = z.enum(['itself', 'but for zeros or maker', 'begins', 'holds', 'words', 'one error', 'alike']);
export type PartMatch = z.infer<typeof PartMatch>;

/** A part that was found: by which of its numbers, what it became, how much of it is in stores and where. */
export const PartHit = PartBrief.extend({
  match: PartMatch,
  /** whose number it was found by; makers may have the same number for parts that have nothing in common */
  matchedMaker: z.string().nullable(),
  /** null where it is current */
  successor: Successor.nullable(),
  places: z.string(),
});
export type PartHit = z.infer<typeof PartHit>;
export const PartList = z.object({
  parts: z.array(PartHit),
  cursor: z.string().nullable(),
  /** false where so many have it that only the first of them were looked at */
  complete: z.boolean(),
});

export const UsedIn = z.object({ unitType: Named, lineNo: z.number().int(), quantity: Quantity, critical: z.boolean() });

/** A part's page: numbers, what it became, how it stands to others, stock and where, who uses it, what is coming. */
export const PartPage = z.object({
  id: Id,
  name: z.string(),
  description: z.string(),
  nicknames: z.string(),
  unitOfMeasure: UnitOfMeasure,
  material: Material,
  polymer: z.string(),
  version: z.number().int(),
  numbers: z.array(PartNumber),
  /** null where the part is current */
  successor: Successor.nullable(),
  /** those that stand first, then those that were withdrawn */
  relations: z.array(RelationShown),
  usedIn: z.array(UsedIn),
  lots: z.array(
    z.object({
      id: Id,
      code: z.string(),
      held: Quantity,
      claimed: Quantity,
      source: z.string(),
      make: z.string(),
      packet: z.string(),
      places: z.string(),
      heldBack: z.string().nullable(),
      condemned: z.boolean(),
      /** it was looked for and not found */
      isMissing: z.boolean(),
      storageLife: StorageLife,
      owner: z.string().nullable(),
    }),
  ),
  receipts: z.array(
    z.object({
      id: Id,
      orderReference: z.string(),
      supplier: z.string(),
      quantity: Quantity,
      dueOn: z.string().nullable(),
      confirmed: z.boolean(),
    }),
  ),
});
export type PartPage = z.infer<typeof PartPage>;

const PrintedNumber = z.string().trim().min(1, 'Key the number as it is printed.').max(60, 'A number has at most 60 characters.');
const Polymer = z.string().trim().max(20).default('');
const Year = z.number().int().nullable().default(null);

/** A part that is not in the books, under the number that it goes by. A maker who is not known yet is written down with it. */
export const AddPart = z.strictObject({
  id: Id,
  makerName: RequiredText,
  number: PrintedNumber,
  name: RequiredText,
  description: LongText.default(''),
  nicknames: ShortText.default(''),
  unitOfMeasure: UnitOfMeasure,
  material: Material,
  polymer: Polymer,
  /** said when the maker has a number that differs only in how it is written: this is another part all the same */
  isAnother: z.boolean().default(false),
});
export type AddPart = z.infer<typeof AddPart>;

/** A further number of a part, by its maker or by another. */
export const AddPartNumber = z.strictObject({
  makerName: RequiredText,
  number: PrintedNumber,
  yearFirst: Year,
  yearLast: Year,
  isAnother: z.boolean().default(false),
});
export type AddPartNumber = z.infer<typeof AddPartNumber>;

export const EditPart = z.strictObject({
  name: RequiredText,
  description: LongText,
  nicknames: ShortText,
  material: Material,
  polymer: Polymer,
});
export type EditPart = z.infer<typeof EditPart>;
export const PartChanged = z.object({ id: Id, version: z.number().int() });

export const UnitTypeBrief = z.object({
  id: Id,
  reference: z.string(),
  name: z.string(),
  kind: z.string(),
  maker: z.string(),
  recogniseBy: z.string(),
  lineCount: z.number().int(),
});
export type UnitTypeBrief = z.infer<typeof UnitTypeBrief>;
export const UnitTypeList = z.object({ unitTypes: z.array(UnitTypeBrief) });

export const GradeScale = z.enum(['core', 'part']);
export type GradeScale = z.infer<typeof GradeScale>;
/** A grade of one of the workshop's scales. One that is retired is no longer offered, and stays on what bears it. */
export const Grade = z.object({
  id: Id,
  scale: GradeScale,
  letter: z.string(),
  /** 1 is best */
  rank: z.number().int(),
  meaning: z.string(),
  retired: z.boolean(),
  version: z.number().int(),
});
export type Grade = z.infer<typeof Grade>;
/** `rank`: where it stands on its scale; the others make room. */
export const EditGrade = z.strictObject({
  scale: GradeScale,
  letter: z.string().trim().min(1, 'Key the letter.').max(10, 'At most ten characters: it goes on a label.'),
  rank: z.number().int().min(1, 'The best grade has the rank 1.').max(99),
  meaning: z.string().trim().min(1, 'Say what it means, so that two people grade alike.').max(1000),
  retired: z.boolean().default(false),
});
export type EditGrade = z.infer<typeof EditGrade>;
export const GradeList = z.object({ grades: z.array(Grade) });

/** One search over everything: `q` is a number however keyed, a word, a nickname, a mark or a code. */
export const SearchQuery = z.strictObject({
  q: z.string().trim().max(100).default(''),
  limit: z.coerce.number().int().min(1).max(100).default(20),
  cursor: Cursor.optional(),
});
/** Parts alone, of one maker or of all. */
export const PartQuery = SearchQuery.extend({ makerId: Id.optional() });
export const MakerList = z.object({ makers: z.array(Named) });
export const UnitTypeQuery = z.strictObject({ q: z.string().trim().max(100).default('') });
