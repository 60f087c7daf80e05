import type { EditPicture, PictureShown } from '@corewright/contracts/pictures';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../../platform/commands/version-seen.js';
import { done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { pictureOf } from './picture.queries.js';
import { PictureSubjects } from './picture-subjects.js';

const lockPicture = 'SELECT 1 AS locked FROM pictures WHERE id = $1 FOR NO KEY UPDATE';
const updatePicture = 'UPDATE pictures SET words = $2, shows = $3, version = version + 1 WHERE id = $1';
const insertStrike = 'INSERT INTO picture_strikes (picture_id, command_key, why, person_id) VALUES ($1, $2, $3, $4)';

/** What stands under a photograph, and whether it counts. The picture itself is never changed. */
@Injectable()
export class ChangePictureHandler {
  constructor(private readonly subjects: PictureSubjects) {}

  async edit(transaction: Transaction, id: string, { words, ofMarks }: EditPicture): Promise<Result<PictureShown>> {
    const picture = await this.locked(transaction, id);
    if (picture === null) return refused(notFound('That photograph'));
    const unseen = whyNotCurrent(transaction.command, picture);
    if (unseen !== null) return refused(unseen);
    const isOfThing = picture.shows === 'thing' || picture.shows === 'marks';
    const shows = isOfThing ? (ofMarks ? 'marks' : 'thing') : picture.shows;
    await transaction.rows(updatePicture, [id, words, shows]);
    return this.after(transaction, picture);
  }

  /** It stays on the record, and is no longer counted or shown among the others. */
  async strike(transaction: Transaction, id: string, reason: string): Promise<Result<PictureShown>> {
    const picture = await this.locked(transaction, id);
    if (picture === null) return refused(notFound('That photograph'));
    if (picture.struckOut !== null) return refused(struckAlready(picture.struckOut.by));
    const { key, person } = transaction.command;
    await transaction.rows(insertStrike, [id, key, reason, person.id]);
    return this.after(transaction, picture);
  }

  private async locked(transaction: Transaction, id: string): Promise<PictureShown | null> {
    const [, picture] = await Promise.all([transaction.row(lockPicture, [id]), pictureOf(transaction, id)]);
    return picture;
  }

  private async after(transaction: Transaction, { id, subjectId }: PictureShown): Promise<Result<PictureShown>> {
    transaction.news(...((await this.subjects.find(transaction, subjectId))?.news ?? []));
    const picture = await pictureOf(transaction, id);
    invariant(picture !== null, 'a locked photograph is in the books');
    return done(picture);
  }
}

function struckAlready(by: string) {
  return {
    status: 409,
    code: 'struck-out-already',
    title: 'Struck out already',
    detail: `${by === '' ? 'Somebody' : by} has struck this photograph out. Nothing was changed.`,
  };
}
