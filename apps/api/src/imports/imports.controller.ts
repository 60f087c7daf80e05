import { IdParam } from '@corewright/contracts/base';
import { ImportQuery, ImportReport, ImportUnderWay } from '@corewright/contracts/imports';
import { Controller, Get, HttpCode, Param, Post, Query, UseInterceptors } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, keepers } from '../platform/access/signed-in.js';
import { type Command, Issued, withContent } from '../platform/commands/command.js';
import { UnitOfWork } from '../platform/commands/unit-of-work.js';
import { Answers } from '../platform/http/answers.js';
import { done } from '../platform/refusal.js';
import { ImportRuns } from './import-runs.js';
import { Importer } from './importer.js';
import { type ReceivedFile, ReceivedFiles, ReceiveFiles } from './receive-files.js';

@Controller('imports')
export class ImportsController {
  constructor(
    private readonly unitOfWork: UnitOfWork,
    private readonly importer: Importer,
    private readonly runs: ImportRuns,
  ) {}

  /** How far the import that is under way has come, whoever sent it. */
  @Get('under-way')
  @Allow(keepers)
  @Answers(ImportUnderWay)
  async underWay(): Promise<ImportUnderWay> {
    return { underWay: await this.runs.underWay() };
  }

  /** Stops an import; nothing of it stays. */
  @Post(':id/stop')
  @HttpCode(200)
  @Allow(keepers)
  @Answers(ImportUnderWay)
  stop(@Issued() command: Command, @Param({ schema: IdParam }) param: z.infer<typeof IdParam>): Promise<ImportUnderWay> {
    return this.unitOfWork.run(command, (transaction) => this.runs.stop(transaction, param.id));
  }

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
