import { IdParam } from '@corewright/contracts/base';
import { KeepRowWorth, PartOfWholeParam, PassedOn, ShareLoadCost } from '@corewright/contracts/costs';
import { Body, Controller, Get, HttpCode, Param, Post, Put } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, keepers } from '../../../platform/access/signed-in.js';
import { type Command, Issued } from '../../../platform/commands/command.js';
import { UnitOfWork } from '../../../platform/commands/unit-of-work.js';
import { Database } from '../../../platform/database/database.js';
import { Answers } from '../../../platform/http/answers.js';
import { notFound, RefusalError } from '../../../platform/refusal.js';
import { KeepPartWorthHandler, PassOnHandler } from './pass-on.handlers.js';
import { passedOnPage } from './passed-on-page.js';
import { PassedOnStates } from './passed-on-state.js';

/** What things cost is for those who keep the books. */
@Controller('things/:id/passed-on')
export class PassOnController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly states: PassedOnStates,
    private readonly passing: PassOnHandler,
    private readonly keepWorth: KeepPartWorthHandler,
  ) {}

  @Get()
  @Allow(keepers)
  @Answers(PassedOn)
  async one(@Param({ schema: IdParam }) param: z.infer<typeof IdParam>): Promise<PassedOn> {
    const state = await this.states.of(this.database, param.id);
    if (state === null) throw new RefusalError(notFound('That unit or box'));
    return passedOnPage(state);
  }

  @Post()
  @Allow(keepers)
  @Answers(PassedOn)
  @HttpCode(200)
  pass(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: z.infer<typeof IdParam>,
    @Body({ schema: ShareLoadCost }) body: ShareLoadCost,
  ): Promise<PassedOn> {
    return this.unitOfWork.run(command, (transaction) => this.passing.handle(transaction, param.id, body));
  }

  @Put(':partId/worth')
  @Allow(keepers)
  @Answers(PassedOn)
  @HttpCode(200)
  worth(
    @Issued() command: Command,
    @Param({ schema: PartOfWholeParam }) param: z.infer<typeof PartOfWholeParam>,
    @Body({ schema: KeepRowWorth }) body: z.infer<typeof KeepRowWorth>,
  ): Promise<PassedOn> {
    return this.unitOfWork.run(command, (transaction) => this.keepWorth.handle(transaction, param, body));
  }
}
