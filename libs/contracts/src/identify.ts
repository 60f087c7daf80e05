import * as z from 'zod';
import { CodeText, Id, Instant, Named, ShortText } from './base.js';
import { PictureShown } from './pictures.js';

const Teeth = z
  .number()
  .int()
  .min(1, 'Count the teeth: one at least.')
  .max(1000, 'No gear of a drivetrain has more than 1000 teeth.');
export const Mesh = z.strictObject({ driver: Teeth, driven: Teeth });

export const Sign = z.object({
  id: Id,
  kind: z.enum(['stamp', 'casting', 'feature', 'count']),
  position: z.string(),
  pattern: z.string(),
  yearFirst: z.number().int().nullable(),
  yearLast: z.number().int().nullable(),
  words: z.string(),
  weight: z.enum(['hint', 'good', 'decisive']),
  pictures: z.array(Id),
});

/** A unit type by what it is known by: signs, serial numbers, the teeth of its ratios. */
export const KnownType = z.object({
  id: Id,
  name: z.string(),
  kind: z.string(),
  maker: z.string(),
  signs: z.array(Sign),
  serials: z.array(z.object({ prefix: z.string(), first: z.number().int(), last: z.number().int() })),
  gears: z.array(
    z.object({ gear: z.string(), meshes: z.array(z.object({ driver: z.number().int(), driven: z.number().int() })) }),
  ),
});
export type KnownType = z.infer<typeof KnownType>;
const SerialRange = z.object({ prefix: z.string(), first: z.number().int(), last: z.number().int() });
const GearOfType = z.object({ gear: z.string(), meshes: z.array(Mesh) });

/** A sign as it is kept. One that is withdrawn is looked for no longer. */
export const SignKept = Sign.omit({ pictures: true }).extend({
  withdrawn: z.boolean(),
  version: z.number().int(),
  /** those struck out among them */
  pictures: z.array(PictureShown),
});
export type SignKept = z.infer<typeof SignKept>;

/** What one type is known by, for whoever edits it. `version` is that of the serial numbers and the teeth. */
export const KnownBy = z.object({
  unitType: Named,
  signs: z.array(SignKept),
  serials: z.array(SerialRange),
  gears: z.array(GearOfType),
  version: z.number().int(),
});
export type KnownBy = z.infer<typeof KnownBy>;

const SignYear = z.number().int().min(0).max(9999).nullable();
export const EditSign = z.strictObject({
  kind: Sign.shape.kind,
  position: ShortText,
  pattern: ShortText,
  yearFirst: SignYear,
  yearLast: SignYear,
  words: ShortText,
  weight: Sign.shape.weight,
  withdrawn: z.boolean().default(false),
});
export type EditSign = z.infer<typeof EditSign>;
export const SignParam = z.strictObject({ id: Id, signId: Id });

const SerialNumber = z.number().int().min(0, 'A serial number is nought or more.').max(999_999_999, 'At most nine figures.');
const rangesMax = 100;
const gearsMax = 20;
/** All serial numbers and teeth of a type; what is left out is no longer known of it. */
export const EditKnownNumbers = z.strictObject({
  serials: z
    .array(z.strictObject({ prefix: z.string().trim().max(40), first: SerialNumber, last: SerialNumber }))
    .max(rangesMax, `At most ${rangesMax} ranges are taken.`),
  gears: z
    .array(z.strictObject({ gear: z.string().trim().max(40), meshes: z.array(Mesh).min(1, 'Key the teeth.').max(4) }))
    .max(gearsMax, `At most ${gearsMax} gears are taken.`),
});
export type EditKnownNumbers = z.infer<typeof EditKnownNumbers>;

export const KnownTypeList = z.object({ types: z.array(KnownType) });

const marksMax = 20;
const answersMax = 200;
const Ratio = z.number().positive('A ratio is more than nothing.').max(100_000);
const Marks = z.array(ShortText).max(marksMax, `At most ${marksMax} marks are taken.`).default([]);
const fewAnswers = (answers: Record<string, unknown>): boolean => Object.keys(answers).length <= answersMax;
const tooMany = `At most ${answersMax} answers are taken.`;

/** What was read and counted on a unit; whatever was not is left out. */
export const Reading = z.strictObject({
  maker: ShortText.default(''),
  serial: ShortText.default(''),
  marks: Marks,
  castings: Marks,
  ratio: z
    .union([
      z.strictObject({ meshes: z.array(Mesh).min(1).max(4) }),
      z.strictObject({ least: Ratio, most: Ratio }).refine(({ least, most }) => least <= most, 'Key the lower ratio first.'),
    ])
    .nullable()
    .default(null),
  features: z.record(z.string().max(200), z.boolean()).refine(fewAnswers, tooMany).default({}),
  counts: z.record(z.string().max(200), z.number().int().min(0).max(9999)).refine(fewAnswers, tooMany).default({}),
});
export type Reading = z.infer<typeof Reading>;

/** A person says what a unit is, by what was read; null: that nobody knows after all. */
export const IdentifyUnit = z.strictObject({
  id: Id,
  unitTypeId: Id.nullable(),
  reading: Reading,
  /** needed where what was read contradicts it, and where something else was said before */
  why: ShortText.default(''),
});
export type IdentifyUnit = z.infer<typeof IdentifyUnit>;

export const IdentificationShown = z.object({
  id: Id,
  unitType: Named.nullable(),
  reading: Reading,
  speaksFor: z.array(z.string()),
  speaksAgainst: z.array(z.string()),
  ruledOut: z.boolean(),
  why: z.string(),
  by: z.string(),
  at: Instant,
});
export type IdentificationShown = z.infer<typeof IdentificationShown>;
/** Whatever was said of what a unit is, the newest first. */
export const IdentificationList = z.object({ identifications: z.array(IdentificationShown) });

/** A unit of which nobody has said what it is. */
export const UnidentifiedUnit = z.object({
  id: Id,
  code: CodeText,
  words: z.string(),
  marks: z.string(),
  grade: z.string(),
  places: z.string(),
  owner: z.string().nullable(),
  since: Instant,
  pictures: z.array(Id),
});
export type UnidentifiedUnit = z.infer<typeof UnidentifiedUnit>;
/** The oldest first. */
export const UnidentifiedList = z.object({ units: z.array(UnidentifiedUnit), count: z.number().int() });
