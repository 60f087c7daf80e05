import { IdParam } from '@corewright/contracts/base';
import { LineParam } from '@corewright/contracts/jobs';
import { WithdrawRelation } from '@corewright/contracts/relations';
import { AcceptSubstitute, AskingLines, SubstituteAccepted, SubstituteShown } from '@corewright/contracts/substitutes';
import { Body, Controller, Get, HttpCode, Param, Post } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, keepers } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { AcceptSubstituteHandler } from './accept-substitute.handler.js';
import { linesAskingFor } from './substitute.queries.js';
import { withdrawSubstitute } from './withdraw-substitute.js';

@Controller()
export class SubstitutesController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly accepting: AcceptSubstituteHandler,
  ) {}

  @Get('parts/:id/asking-lines')
  @Allow(everyone)
  @Answers(AskingLines)
  async asking(@Param({ schema: IdParam }) param: { id: string }): Promise<AskingLines> {
    return { lines: await linesAskingFor(this.database, [param.id]) };
  }

  @Post('jobs/:id/lines/:lineId/substitutes')
  @HttpCode(200)
  @Allow(keepers)
  @Answers(SubstituteAccepted)
  accept(
    @Issued() command: Command,
    @Param({ schema: LineParam }) param: z.infer<typeof LineParam>,
    @Body({ schema: AcceptSubstitute }) body: AcceptSubstitute,
  ): Promise<SubstituteAccepted> {
    return this.unitOfWork.run(command, (transaction) => this.accepting.handle(transaction, param.id, param.lineId, body));
  }

  @Post('substitutes/:id/withdrawal')
  @HttpCode(200)
  @Allow(keepers)
  @Answers(SubstituteShown)
  withdraw(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: { id: string },
    @Body({ schema: WithdrawRelation }) body: z.infer<typeof WithdrawRelation>,
  ): Promise<SubstituteShown> {
    return this.unitOfWork.run(command, (transaction) => withdrawSubstitute(transaction, param.id, body.why));
  }
}
