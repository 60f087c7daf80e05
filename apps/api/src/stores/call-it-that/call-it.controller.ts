import { IdParam } from '@corewright/contracts/base';
import { Called, CallIt } from '@corewright/contracts/nicknames';
import { Body, Controller, HttpCode, Param, Post } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, hands } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Answers } from '../../platform/http/answers.js';
import { CallItHandler } from './call-it.handler.js';

type IdOfPath = z.infer<typeof IdParam>;

@Controller()
export class CallItController {
  constructor(
    private readonly unitOfWork: UnitOfWork,
    private readonly handler: CallItHandler,
  ) {}

  @Post('parts/:id/nicknames')
  @HttpCode(200)
  @Allow(hands)
  @Answers(Called)
  part(
    @Issued() command: Command,
    @Param({ schema: IdParam }) { id }: IdOfPath,
    @Body({ schema: CallIt }) body: CallIt,
  ): Promise<Called> {
    return this.unitOfWork.run(command, (transaction) => this.handler.handle(transaction, 'part', id, body));
  }

  @Post('places/:id/nicknames')
  @HttpCode(200)
  @Allow(hands)
  @Answers(Called)
  place(
    @Issued() command: Command,
    @Param({ schema: IdParam }) { id }: IdOfPath,
    @Body({ schema: CallIt }) body: CallIt,
  ): Promise<Called> {
    return this.unitOfWork.run(command, (transaction) => this.handler.handle(transaction, 'place', id, body));
  }
}
