import type { PictureTaken } from '@corewright/contracts/goods-in';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { done, notFound, type Result, refused } from '../../platform/refusal.js';
import { LoadNames } from '../later-names.js';
import type { Developed } from './develop.js';

/** Whatever bears a code can be photographed. */
const hasCode = 'SELECT 1 AS there FROM codes WHERE subject_id = $1 LIMIT 1';
const insertPicture = `
  INSERT INTO pictures (id, subject_id, media_type, width, height, person_id) VALUES ($1, $2, 'image/jpeg', $3, $4, $5)`;
const insertData = `INSERT INTO picture_data (picture_id, size, bytes) VALUES ($1, 'full', $2), ($1, 'small', $3)`;

@Injectable()
export class KeepPictureHandler {
  constructor(private readonly loads: LoadNames) {}

  async handle(transaction: Transaction, subjectId: string, picture: Developed): Promise<Result<z.infer<typeof PictureTaken>>> {
    if (!(await transaction.row(hasCode, [subjectId]))) return refused(notFound('What this is a picture of'));
    const id = newId();
    const { width, height, full, small } = picture;
    await transaction.rows(insertPicture, [id, subjectId, width, height, transaction.command.person.id]);
    await transaction.rows(insertData, [id, full, small]);
    const load = await this.loads.nameOf(transaction, subjectId);
    transaction.news(`thing:${subjectId}`, ...(load === null ? [] : [`load:${load.id}`]));
    return done({ id, subjectId, width, height });
  }
}
