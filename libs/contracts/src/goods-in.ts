import * as z from 'zod';
import {
  Coded,
  CodeInput,
  CodeText,
  Cursor,
  Id,
  LongText,
  Make,
  Named,
  PacketCondition,
  PacketDate,
  PlainDate,
  Quantity,
  RequiredText,
  ShortText,
  Source,
  StorageLife,
} from './base.js';
import { PictureShown } from './pictures.js';

export const OpenLoad = z.strictObject({ id: Id, words: RequiredText, sellerName: RequiredText, boughtOn: PlainDate });
export const LoadBrief = z.object({
  id: Id,
  number: z.number().int(),
  words: z.string(),
  seller: z.string(),
  boughtOn: PlainDate,
  rowCount: z.number().int(),
  unlabelled: z.number().int(),
});
export type LoadBrief = z.infer<typeof LoadBrief>;
export const LoadList = z.object({ loads: z.array(LoadBrief), cursor: z.string().nullable() });

/**
 * What a person keys for a row. `code` is that of a blank label which is on it, for a new row alone; null gives it the next. `ownerName` empty is
 * the workshop; `placeId` null is "no place yet".
 */
const RowCommon = {
  position: z.number().int().min(1).max(100_000),
  code: CodeInput.nullable().default(null),
  ownerName: ShortText.default(''),
  placeId: Id.nullable().default(null),
  note: LongText.default(''),
};
export const UnitRow = z.strictObject({
  kind: z.literal('unit'),
  ...RowCommon,
  unitTypeId: Id.nullable(),
  words: ShortText.default(''),
  grade: z.string().trim().max(10).default(''),
  marks: ShortText.default(''),
});
export const LotRow = z.strictObject({
  kind: z.literal('lot'),
  ...RowCommon,
  partId: Id.nullable(),
  words: ShortText.default(''),
  quantity: z.string().trim().min(1, 'Key how many.').max(20),
  source: Source.default('unknown'),
  make: Make.default('unknown'),
  makerName: ShortText.default(''),
  marks: ShortText.default(''),
  condition: ShortText.default(''),
  packetRead: ShortText.default(''),
  packetCondition: PacketCondition.default('none'),
});
export const UnsortedRow = z.strictObject({
  kind: z.literal('unsorted'),
  ...RowCommon,
  words: RequiredText,
  pieceCount: z.number().int().min(1).max(1_000_000).nullable().default(null),
});
export const RowInput = z.discriminatedUnion('kind', [UnitRow, LotRow, UnsortedRow]);
export type RowInput = z.infer<typeof RowInput>;

export const RowWarning = z.object({
  kind: z.enum(['same-mark', 'storage-life', 'wanted']),
  words: z.string(),
  other: Coded.nullable(),
});

/** A row as kept. Its id is the thing's id, made by the client. `version` is the ETag. */
export const LoadRow = z.object({
  id: Id,
  code: CodeText,
  kind: z.enum(['unit', 'lot', 'unsorted']),
  position: z.number().int(),
  version: z.number().int(),
  owner: Named.nullable(),
  place: z.object({ id: Id, path: z.string() }).nullable(),
  note: z.string(),
  name: z.string(),
  unitType: Named.nullable(),
  part: z.object({ id: Id, name: z.string(), number: z.string() }).nullable(),
  words: z.string(),
  grade: z.string(),
  marks: z.string(),
  quantity: Quantity,
  source: Source.nullable(),
  make: Make.nullable(),
  maker: z.string().nullable(),
  condition: z.string(),
  packet: PacketDate.nullable(),
  packetCondition: PacketCondition.nullable(),
  storageLife: StorageLife.nullable(),
  pieceCount: z.number().int().nullable(),
  /** but for those struck out */
  pictures: z.array(PictureShown),
  labelled: z.boolean(),
  struckOut: z.boolean(),
  warnings: z.array(RowWarning),
});
export type LoadRow = z.infer<typeof LoadRow>;

export const LoadPage = LoadBrief.extend({ version: z.number().int(), sellerId: Id, rows: z.array(LoadRow) });
export type LoadPage = z.infer<typeof LoadPage>;

export const StrikeRow = z.strictObject({ reason: RequiredText });
export const RowParam = z.strictObject({ id: Id, rowId: Id });

export const LoadQuery = z.strictObject({
  limit: z.coerce.number().int().min(1).max(100).default(50),
  cursor: Cursor.optional(),
});
