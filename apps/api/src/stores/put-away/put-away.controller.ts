import { PutAway, PutAwayDone } from '@corewright/contracts/stores';
import { Body, Controller, HttpCode, Post } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, hands } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Answers } from '../../platform/http/answers.js';
import { PutAwayHandler } from './put-away.handler.js';

@Controller('put-aways')
export class PutAwayController {
  constructor(
    private readonly unitOfWork: UnitOfWork,
    private readonly handler: PutAwayHandler,
  ) {}

  @Post()
  @HttpCode(200)
  @Allow(hands)
  @Answers(PutAwayDone)
  putAway(
    @Issued() command: Command,
    @Body({ schema: PutAway }) body: z.infer<typeof PutAway>,
  ): Promise<z.infer<typeof PutAwayDone>> {
    return this.unitOfWork.runAtOnce(command, (transaction) => this.handler.handle(transaction, body));
  }
}
