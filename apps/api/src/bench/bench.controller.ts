import { IdParam } from '@corewright/contracts/base';
import { ActList, JobScan, JobScanDone, TakeBack, TakenBack, TakenOut, TakeOut } from '@corewright/contracts/bench';
import { Body, Controller, Get, HttpCode, Param, Post } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, hands } from '../platform/access/signed-in.js';
import { type Command, Issued } from '../platform/commands/command.js';
import { UnitOfWork } from '../platform/commands/unit-of-work.js';
import { Database } from '../platform/database/database.js';
import { Answers } from '../platform/http/answers.js';
import { lastActsAt, lastOf } from './acts.queries.js';
import { JobScanHandler } from './job-scan.handler.js';
import { LockOrder } from './lock-order.js';
import type { ScanMode } from './scan-state.js';
import { takeBack, takeOut } from './take-back.js';
import { UsesAtBench } from './uses-at-bench.js';

@Controller()
export class BenchController {
  constructor(
    private readonly unitOfWork: UnitOfWork,
    private readonly database: Database,
    private readonly scans: JobScanHandler,
    private readonly uses: UsesAtBench,
  ) {}

  @Post('picks')
  @HttpCode(200)
  @Allow(hands)
  @Answers(JobScanDone)
  pick(
    @Issued() command: Command,
    @Body({ schema: JobScan }) body: z.infer<typeof JobScan>,
  ): Promise<z.infer<typeof JobScanDone>> {
    return this.scan(command, 'pick', body);
  }

  @Post('fits')
  @HttpCode(200)
  @Allow(hands)
  @Answers(JobScanDone)
  fit(
    @Issued() command: Command,
    @Body({ schema: JobScan }) body: z.infer<typeof JobScan>,
  ): Promise<z.infer<typeof JobScanDone>> {
    return this.scan(command, 'fit', body);
  }

  private scan(command: Command, mode: ScanMode, body: JobScan): Promise<JobScanDone> {
    const order = new LockOrder();
    return this.unitOfWork.runAtOnce(command, (transaction) => this.scans.handle(transaction, mode, body, order));
  }

  @Get('jobs/:id/acts')
  @Allow(everyone)
  @Answers(ActList)
  async acts(@Param({ schema: IdParam }) param: { id: string }): Promise<z.infer<typeof ActList>> {
    return {
      acts: lastOf([...(await lastActsAt(this.database, param.id)), ...(await this.uses.actsAt(this.database, param.id))]),
    };
  }

  @Post('acts/:id/take-back')
  @HttpCode(200)
  @Allow(hands)
  @Answers(TakenBack)
  takeBack(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: { id: string },
    @Body({ schema: TakeBack }) body: z.infer<typeof TakeBack>,
  ): Promise<z.infer<typeof TakenBack>> {
    return this.unitOfWork.run(command, async (transaction) => {
      const use = await this.uses.takeBack(transaction, param.id, body);
      return use ?? takeBack(transaction, param.id, body);
    });
  }

  @Post('fittings/:id/removal')
  @HttpCode(200)
  @Allow(hands)
  @Answers(TakenOut)
  takeOut(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: { id: string },
    @Body({ schema: TakeOut }) body: z.infer<typeof TakeOut>,
  ): Promise<z.infer<typeof TakenOut>> {
    return this.unitOfWork.run(command, (transaction) => takeOut(transaction, param.id, body));
  }
}
