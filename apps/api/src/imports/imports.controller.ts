import { ImportQuery, ImportReport } from '@corewright/contracts/imports';
import { Controller, HttpCode, Post, Query, UseInterceptors } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, keepers } from '../platform/access/signed-in.js';
import { type Command, Issued, withContent } from '../platform/commands/command.js';
import { UnitOfWork } from '../platform/commands/unit-of-work.js';
import { Answers } from '../platform/http/answers.js';
import { done } from '../platform/refusal.js';
import { Importer } from './importer.js';
import { type ReceivedFile, ReceivedFiles, ReceiveFiles } from './receive-files.js';

@Controller('imports')
export class ImportsController {
  constructor(
    private readonly unitOfWork: UnitOfWork,
    private readonly importer: Importer,
  ) {}

  /** Tries files, or brings them in; the report says row by row what is wrong. */
  @Post()
  @HttpCode(200)
  @Allow(keepers)
  @UseInterceptors(ReceiveFiles)
  @Answers(ImportReport)
  bringIn(
    @Issued() command: Command,
    @Query({ schema: ImportQuery }) query: z.infer<typeof ImportQuery>,
    @ReceivedFiles() files: ReceivedFile[],
  ): Promise<ImportReport> {
    const asked = withContent(
      command,
      files.map((file) => file.digest),
    );
    const options = { apply: query.apply === 'yes', shiftDays: 0 };
    return this.unitOfWork.run(asked, async (transaction) => done(await this.importer.bringIn(transaction, files, options)));
  }
}
