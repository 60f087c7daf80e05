import type { KeepPicture, PictureShown, PictureShows } from '@corewright/contracts/pictures';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import type { TakenByCamera } from './cleaning/exif.js';
import { pictureOf } from './picture.queries.js';
import { PictureSubjects } from './picture-subjects.js';
import type { ReadyPicture } from './reception.js';

/** A camera's clock without an offset is read as the workshop's; one that runs ahead of time is not believed. */
const insertPicture = `
  WITH said AS (SELECT coalesce($8::timestamp AT TIME ZONE (SELECT time_zone FROM workshop), $9::timestamptz) AS at)
  INSERT INTO pictures (id, subject_id, shows, words, upload_sha256, person_id, media_type, width, height, taken_at)
  SELECT $1, $2, $3, $4, decode($5, 'hex'), $6, $7, $10, $11, CASE WHEN said.at <= now() THEN said.at ELSE now() END FROM said
  ON CONFLICT (id) DO NOTHING RETURNING 1 AS kept`;
const insertFiles = `
  INSERT INTO picture_files (picture_id, size, sha256, media_type, bytes)
  SELECT $1, size, decode(sha256, 'hex'), media_type, bytes
    FROM unnest($2::text[], $3::text[], $4::text[], $5::integer[]) AS each (size, sha256, media_type, bytes)`;
const selectSame = `
  SELECT 1 AS same FROM pictures WHERE id = $1 AND subject_id = $2 AND person_id = $3 AND upload_sha256 = decode($4, 'hex')`;

/** What is written down of a photograph by another than who sends it: a file that is brought in names both. */
export interface TakenBefore {
  personId: string | null;
  takenAt: string;
  shows: PictureShows;
}

@Injectable()
export class KeepPictureHandler {
  constructor(private readonly subjects: PictureSubjects) {}

  /** @param ready null where another command has kept the photograph */
  async handle(
    transaction: Transaction,
    asked: KeepPicture,
    ready: ReadyPicture | null,
    before: TakenBefore | null = null,
  ): Promise<Result<PictureShown>> {
    const subject = await this.subjects.find(transaction, asked.subjectId);
    if (subject === null) return refused(notFound('What this is a picture of'));
    const isNew = ready !== null && (await this.insert(transaction, asked, ready, subject.shows, before));
    if (!isNew && !(await this.isSame(transaction, asked))) return refused(idTaken);
    if (isNew) transaction.news(...subject.news);
    const shown = await pictureOf(transaction, asked.id);
    invariant(shown !== null, 'a photograph that was kept is in the books');
    return done(shown);
  }

  private async insert(
    transaction: Transaction,
    asked: KeepPicture,
    ready: ReadyPicture,
    shows: PictureShows,
    before: TakenBefore | null,
  ): Promise<boolean> {
    const { person, madeAt } = transaction.command;
    const original = ready.files.find(({ size }) => size === 'original');
    invariant(original, 'a developed photograph has its original');
    const { local, instant } =
      before === null ? takenWhen(ready.taken, asked.fileDate ?? madeAt) : { local: null, instant: before.takenAt };
    const kept = await transaction.row(insertPicture, [
      asked.id,
      asked.subjectId,
      before?.shows ?? (shows === 'thing' && asked.ofMarks ? 'marks' : shows),
      asked.words,
      asked.sha256,
      before === null ? person.id : before.personId,
      original.mediaType,
      local,
      instant,
      ready.width,
      ready.height,
    ]);
    if (kept === null) return false;
    const column = <Key extends 'size' | 'sha256' | 'mediaType' | 'bytes'>(key: Key) => ready.files.map((file) => file[key]);
    await transaction.rows(insertFiles, [asked.id, column('size'), column('sha256'), column('mediaType'), column('bytes')]);
    return true;
  }

  private async isSame(transaction: Transaction, { id, subjectId, sha256 }: KeepPicture): Promise<boolean> {
    return (await transaction.row(selectSame, [id, subjectId, transaction.command.person.id, sha256])) !== null;
  }
}

/** What the camera says counts before what the file says. */
function takenWhen(taken: TakenByCamera | null, other: string | null): { local: string | null; instant: string | null } {
  if (taken === null) return { local: null, instant: other };
  if (taken.offset === null) return { local: taken.local, instant: null };
  const instant = new Date(`${taken.local}${taken.offset}`);
  return { local: null, instant: Number.isNaN(instant.getTime()) ? other : instant.toISOString() };
}

const idTaken = {
  status: 409,
  code: 'id-taken',
  title: 'Another photograph has that name',
  detail: 'A photograph of this id is in the books, and it is not this one. Nothing was changed: send it with an id of its own.',
};
