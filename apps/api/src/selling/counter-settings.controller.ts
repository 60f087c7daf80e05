import { IdParam } from '@corewright/contracts/base';
import {
  EditReceiptPaper,
  KeepForJobs,
  KeptForJobs,
  KeptForJobsList,
  KeptQuery,
  LiftKeeping,
  ReceiptPaper,
} from '@corewright/contracts/selling';
import { Body, Controller, Get, HttpCode, Param, Post, Put, Query } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, keepers } from '../platform/access/signed-in.js';
import { type Command, Issued } from '../platform/commands/command.js';
import { UnitOfWork } from '../platform/commands/unit-of-work.js';
import { Database } from '../platform/database/database.js';
import { Answers } from '../platform/http/answers.js';
import { keepForJobs, liftKeeping } from './keep/keep-for-jobs.js';
import { keptOf } from './keep/kept.queries.js';
import { editReceiptPaper, receiptPaper } from './receipt/receipt-paper.js';

/** What is not for sale, and what stands on every receipt. */
@Controller()
export class CounterSettingsController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
  ) {}

  @Get('receipt-paper')
  @Allow(everyone)
  @Answers(ReceiptPaper)
  paper(): Promise<ReceiptPaper> {
    return receiptPaper(this.database);
  }

  @Put('receipt-paper')
  @Allow(keepers)
  @Answers(ReceiptPaper)
  @HttpCode(200)
  editPaper(@Issued() command: Command, @Body({ schema: EditReceiptPaper }) body: EditReceiptPaper): Promise<ReceiptPaper> {
    return this.unitOfWork.run(command, (transaction) => editReceiptPaper(transaction, body));
  }

  @Get('kept-for-jobs')
  @Allow(everyone)
  @Answers(KeptForJobsList)
  async kept(@Query({ schema: KeptQuery }) query: z.infer<typeof KeptQuery>): Promise<z.infer<typeof KeptForJobsList>> {
    return { kept: await keptOf(this.database, { thingId: query.thingId ?? null, partId: query.partId ?? null }) };
  }

  @Post('kept-for-jobs')
  @Allow(keepers)
  @Answers(KeptForJobs)
  @HttpCode(200)
  keep(@Issued() command: Command, @Body({ schema: KeepForJobs }) body: KeepForJobs): Promise<KeptForJobs> {
    return this.unitOfWork.run(command, (transaction) => keepForJobs(transaction, body));
  }

  @Post('kept-for-jobs/:id/lifting')
  @Allow(keepers)
  @Answers(KeptForJobs)
  @HttpCode(200)
  lift(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: z.infer<typeof IdParam>,
    @Body({ schema: LiftKeeping }) body: z.infer<typeof LiftKeeping>,
  ): Promise<KeptForJobs> {
    return this.unitOfWork.run(command, (transaction) => liftKeeping(transaction, param.id, body.why));
  }
}
