import { ArchiveReport } from '@corewright/contracts/pictures';
import { Controller, Get, Header, HttpCode, Post, Req, StreamableFile } from '@nestjs/common';
import { ApiOkResponse } from '@nestjs/swagger';
import type { Request } from 'express';
import { Allow, keepers } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { PhotographFolder } from '../../stores/pictures/photograph-folder.js';
import { ArchiveIn } from './archive-in.js';
import { archiveOf } from './archive-out.js';

@Controller('photograph-archive')
export class ArchiveController {
  constructor(
    private readonly database: Database,
    private readonly folder: PhotographFolder,
    private readonly archiveIn: ArchiveIn,
  ) {}

  /** Every photograph as it was taken, with a list of what each shows. */
  @Get()
  @Allow(keepers)
  @ApiOkResponse({
    description: 'The archive.',
    content: { 'application/x-tar': { schema: { type: 'string', format: 'binary' } } },
  })
  @Header('cache-control', 'private, no-store')
  takeOut(): StreamableFile {
    const disposition = 'attachment; filename="photographs.tar"';
    return new StreamableFile(archiveOf(this.database, this.folder), { type: 'application/x-tar', disposition });
  }

  /** Brings such an archive in, sent as it is; what is there already is left as it is. */
  @Post()
  @HttpCode(200)
  @Allow(keepers)
  @Answers(ArchiveReport)
  bringIn(@Issued() command: Command, @Req() request: Request): Promise<ArchiveReport> {
    return this.archiveIn.bringIn(command, request);
  }
}
