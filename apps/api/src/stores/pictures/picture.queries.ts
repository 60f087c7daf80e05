import type { PictureShown } from '@corewright/contracts/pictures';
import type { Reader } from '../../platform/database/database.js';
import type { KeptFile } from './photograph-folder.js';

interface PictureRow extends Omit<PictureShown, 'struckOut'>, Record<string, unknown> {
  struckWhy: string | null;
  struckBy: string | null;
  struckAt: string | null;
}

/** What a sign is among what can be photographed. */
export const signKind = 'sign';

const selectPictures = `
  SELECT pictures.id, subject_id AS "subjectId", shows, words, taken_at AS "takenAt", coalesce(takers.display_name, '') AS "takenBy", width, height, pictures.version,
         why AS "struckWhy", coalesce(strikers.display_name, '') AS "struckBy", struck_at AS "struckAt"
    FROM pictures
    LEFT JOIN people AS takers ON takers.id = pictures.person_id
    LEFT JOIN picture_strikes ON picture_id = pictures.id
    LEFT JOIN people AS strikers ON strikers.id = picture_strikes.person_id`;
const selectOfSubjects = `${selectPictures} WHERE subject_id = ANY ($1::uuid[]) ORDER BY taken_at, pictures.id`;
const selectOne = `${selectPictures} WHERE pictures.id = $1`;

/** The photographs of some things or jobs, oldest first, those struck out among them. */
export async function picturesOf(reader: Reader, subjectIds: readonly string[]): Promise<PictureShown[]> {
  if (subjectIds.length === 0) return [];
  return (await reader.rows<PictureRow>(selectOfSubjects, [subjectIds])).map(shown);
}

export async function pictureOf(reader: Reader, id: string): Promise<PictureShown | null> {
  const row = await reader.row<PictureRow>(selectOne, [id]);
  return row === null ? null : shown(row);
}

function shown({ struckWhy, struckBy, struckAt, ...row }: PictureRow): PictureShown {
  return {
    ...row,
    struckOut: struckWhy === null || struckAt === null ? null : { why: struckWhy, by: struckBy ?? '', at: struckAt },
  };
}

const selectFile = `
  SELECT encode(sha256, 'hex') AS sha256, media_type AS "mediaType" FROM picture_files WHERE picture_id = $1 AND size = $2`;

export function fileOf(reader: Reader, pictureId: string, size: string): Promise<KeptFile | null> {
  return reader.row<KeptFile & Record<string, unknown>>(selectFile, [pictureId, size]);
}

/** What bears a code can be photographed; the letter of the code says what it is. A sign by which a type is known bears none. */
const selectKind = `
  SELECT kind FROM codes WHERE subject_id = $1 UNION ALL SELECT '${signKind}' FROM unit_type_signs WHERE id = $1 LIMIT 1`;

export async function subjectKind(reader: Reader, subjectId: string): Promise<string | null> {
  return (await reader.row<{ kind: string }>(selectKind, [subjectId]))?.kind ?? null;
}
