import { IdParam } from '@corewright/contracts/base';
import { PictureParam, PictureTaken } from '@corewright/contracts/goods-in';
import { Controller, Get, Header, HttpCode, Param, Post, Req, Res, StreamableFile } from '@nestjs/common';
import { ApiOkResponse } from '@nestjs/swagger';
import type { Request, Response } from 'express';
import type * as z from 'zod';
import { Allow, everyone, hands } from '../../platform/access/signed-in.js';
import { type Command, Issued, withContent } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { notFound, RefusalError } from '../../platform/refusal.js';
import { develop } from './develop.js';
import { KeepPictureHandler } from './keep-picture.handler.js';
import { pictureOf } from './upload.js';

const selectBytes = 'SELECT bytes FROM picture_data WHERE picture_id = $1 AND size = $2';

@Controller('pictures')
export class PicturesController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly handler: KeepPictureHandler,
  ) {}

  /** One photograph, multipart, in the field `picture`. */
  @Post(':id')
  @Allow(hands)
  @Answers(PictureTaken)
  @HttpCode(200)
  async keep(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: z.infer<typeof IdParam>,
    @Req() request: Request,
    @Res({ passthrough: true }) response: Response,
  ): Promise<z.infer<typeof PictureTaken>> {
    const upload = await pictureOf(request, response);
    const developed = await develop(upload);
    if (!developed.ok) throw new RefusalError(developed.error);
    return this.unitOfWork.run(withContent(command, [upload]), (transaction) =>
      this.handler.handle(transaction, param.id, developed.value),
    );
  }

  /** A picture never changes, so a browser may keep it; it is for those who are signed in, so nobody between may. */
  @Get(':id/:size')
  @Allow(everyone)
  @ApiOkResponse({ content: { 'image/jpeg': { schema: { type: 'string', format: 'binary' } } } })
  @Header('cache-control', 'private, max-age=31536000, immutable')
  @Header('x-content-type-options', 'nosniff')
  @Header('content-security-policy', "default-src 'none'; sandbox")
  async picture(@Param({ schema: PictureParam }) param: z.infer<typeof PictureParam>): Promise<StreamableFile> {
    const row = await this.database.row<{ bytes: Buffer }>(selectBytes, [param.id, param.size]);
    if (row === null) throw new RefusalError(notFound('That picture'));
    return new StreamableFile(row.bytes, { type: 'image/jpeg', length: row.bytes.length });
  }
}
