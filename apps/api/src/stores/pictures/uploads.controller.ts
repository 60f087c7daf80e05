import { IdParam } from '@corewright/contracts/base';
import { PieceQuery, UploadReached } from '@corewright/contracts/pictures';
import { Controller, Get, Param, Put, Query } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, hands, Person, type SignedIn } from '../../platform/access/signed-in.js';
import { Answers } from '../../platform/http/answers.js';
import { PieceOfBody } from './piece-of-body.js';
import { Reception } from './reception.js';
import { UnfinishedUploads } from './unfinished-uploads.js';

type IdOfPath = z.infer<typeof IdParam>;

/** Photographs on their way, piece by piece. A piece is no command: sent again it changes nothing, and nothing of it stands in the books. */
@Controller('uploads')
export class UploadsController {
  constructor(
    private readonly uploads: UnfinishedUploads,
    private readonly reception: Reception,
  ) {}

  /** How far an upload has come; nought where nothing of it is there. */
  @Get(':id')
  @Allow(hands)
  @Answers(UploadReached)
  async reached(@Person() person: SignedIn, @Param({ schema: IdParam }) param: IdOfPath): Promise<UploadReached> {
    const isKept = await this.reception.isKept(param.id);
    return { received: await this.uploads.received(person.id, param.id), isKept };
  }

  /** A piece, as it is, of a megabyte or less. */
  @Put(':id')
  @Allow(hands)
  @Answers(UploadReached)
  async take(
    @Person() person: SignedIn,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Query({ schema: PieceQuery }) query: z.infer<typeof PieceQuery>,
    @PieceOfBody() body: PieceOfBody,
  ): Promise<UploadReached> {
    const { offset, bytes: bytesTotal } = query;
    this.uploads.refuseTooLarge(bytesTotal);
    const content = await body.read();
    return { received: await this.uploads.take(person.id, param.id, { offset, bytesTotal, content }), isKept: false };
  }
}
