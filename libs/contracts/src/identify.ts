import * as z from 'zod';
import { CodeText, Id, Instant, Named, ShortText } from './base.js';

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
