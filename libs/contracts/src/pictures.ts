import * as z from 'zod';
import { Id, Instant, RequiredText, ShortText } from './base.js';

/** What a photograph shows: the thing itself or what is stamped and cast on it, a job, a finding, a place. */
export const PictureShows = z.enum(['thing', 'marks', 'job', 'finding', 'place']);
export type PictureShows = z.infer<typeof PictureShows>;

/** A photograph as screens show it; the sizes are fetched by its id. */
export const PictureShown = z.object({
  id: Id,
  subjectId: Id,
  shows: PictureShows,
  words: z.string(),
  takenAt: Instant,
  takenBy: z.string(),
  /** of the whole picture, upright */
  width: z.number().int(),
  height: z.number().int(),
  version: z.number().int(),
  struckOut: z.object({ why: z.string(), by: z.string(), at: Instant }).nullable(),
});
export type PictureShown = z.infer<typeof PictureShown>;

/** `original` is what was taken, without the position; the others are made of it. */
export const PictureParam = z.strictObject({ id: Id, size: z.enum(['original', 'full', 'small']) });

/** A piece of a photograph: which byte of the whole it begins at, and how many bytes the whole has. */
export const PieceQuery = z.strictObject({
  offset: z.coerce.number().int().min(0).max(1_000_000_000),
  bytes: z.coerce.number().int().min(1).max(1_000_000_000),
});
/** How many bytes of an upload are there; it goes on from that byte, unless the photograph is kept already. */
export const UploadReached = z.object({ received: z.number().int(), isKept: z.boolean() });
export type UploadReached = z.infer<typeof UploadReached>;

/** Keeps a photograph of which all pieces have arrived. Its id is that of the upload. */
export const KeepPicture = z.strictObject({
  id: Id,
  subjectId: Id,
  bytes: z.number().int().min(1),
  sha256: z.string().regex(/^[0-9a-f]{64}$/, 'A SHA-256 has 64 figures from 0 to f.'),
  /** it shows what is stamped, cast or painted on the thing */
  ofMarks: z.boolean().default(false),
  words: ShortText.default(''),
  /** what the file says of itself; counts where the camera wrote nothing into it */
  fileDate: Instant.nullable().default(null),
});
export type KeepPicture = z.infer<typeof KeepPicture>;

export const EditPicture = z.strictObject({ words: ShortText, ofMarks: z.boolean() });
export type EditPicture = z.infer<typeof EditPicture>;

export const StrikePicture = z.strictObject({ reason: RequiredText });

/** What stands in `photographs.csv`, in an archive of photographs, of each. */
export const photographColumns = [
  'id',
  'file',
  'of',
  'reference',
  'shows',
  'words',
  'taken_at',
  'taken_by',
  'struck_out',
] as const;

/** What came of an archive: so many were kept, so many were known, and what could not be kept, row by row. */
export const ArchiveReport = z.object({
  kept: z.number().int(),
  unchanged: z.number().int(),
  /** the first 500; `faultsTotal` says how many there are */
  faults: z.array(z.object({ line: z.number().int(), words: z.string() })),
  faultsTotal: z.number().int(),
});
export type ArchiveReport = z.infer<typeof ArchiveReport>;
