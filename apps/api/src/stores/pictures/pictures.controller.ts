import { IdParam } from '@corewright/contracts/base';
import { EditPicture, KeepPicture, PictureParam, PictureShown, StrikePicture } from '@corewright/contracts/pictures';
import { Body, Controller, Get, HttpCode, Param, Patch, Post, Res, StreamableFile } from '@nestjs/common';
import { ApiOkResponse } from '@nestjs/swagger';
import type { Response } from 'express';
import type * as z from 'zod';
import { Allow, everyone, hands } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { notFound, RefusalError } from '../../platform/refusal.js';
import { ChangePictureHandler } from './change-picture.handler.js';
import { KeepPictureHandler } from './keep-picture.handler.js';
import { PhotographFolder } from './photograph-folder.js';
import { fileOf } from './picture.queries.js';
import { Reception } from './reception.js';
import { UnfinishedUploads } from './unfinished-uploads.js';

type IdOfPath = z.infer<typeof IdParam>;

const picture = { schema: { type: 'string', format: 'binary' } } as const;

@Controller('pictures')
export class PicturesController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly reception: Reception,
    private readonly uploads: UnfinishedUploads,
    private readonly folder: PhotographFolder,
    private readonly keepPicture: KeepPictureHandler,
    private readonly changePicture: ChangePictureHandler,
  ) {}

  /** Keeps a photograph whose pieces have arrived. */
  @Post()
  @Allow(hands)
  @Answers(PictureShown)
  @HttpCode(200)
  async keep(@Issued() command: Command, @Body({ schema: KeepPicture }) body: KeepPicture): Promise<PictureShown> {
    const ready = await this.reception.ready(command.person.id, body);
    const kept = await this.unitOfWork.run(command, async (transaction) =>
      ready.ok ? this.keepPicture.handle(transaction, body, ready.value) : ready,
    );
    await this.uploads.forget(command.person.id, body.id);
    return kept;
  }

  /** What stands under it, and whether it shows the marks. */
  @Patch(':id')
  @Allow(hands)
  @Answers(PictureShown)
  edit(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: EditPicture }) body: EditPicture,
  ): Promise<PictureShown> {
    return this.unitOfWork.run(command, (transaction) => this.changePicture.edit(transaction, param.id, body));
  }

  @Post(':id/strike')
  @Allow(hands)
  @Answers(PictureShown)
  @HttpCode(200)
  strike(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: StrikePicture }) body: z.infer<typeof StrikePicture>,
  ): Promise<PictureShown> {
    return this.unitOfWork.run(command, (transaction) => this.changePicture.strike(transaction, param.id, body.reason));
  }

  /** A picture never changes, so a browser may keep it; it is for those who are signed in, so nobody between may. */
  @Get(':id/:size')
  @Allow(everyone)
  @ApiOkResponse({ content: { 'image/jpeg': picture, 'image/png': picture, 'image/webp': picture } })
  async picture(
    @Param({ schema: PictureParam }) param: z.infer<typeof PictureParam>,
    @Res({ passthrough: true }) response: Response,
  ): Promise<StreamableFile> {
    const file = await fileOf(this.database, param.id, param.size);
    if (file === null) throw new RefusalError(notFound('That picture'));
    const { stream, bytes } = await this.folder.read(file);
    response.setHeader('cache-control', 'private, max-age=31536000, immutable');
    response.setHeader('x-content-type-options', 'nosniff');
    response.setHeader('content-security-policy', "default-src 'none'; sandbox");
    const disposition = `inline; filename="${this.folder.nameOf(file)}"`;
    return new StreamableFile(stream, { type: file.mediaType, length: bytes, disposition });
  }
}
