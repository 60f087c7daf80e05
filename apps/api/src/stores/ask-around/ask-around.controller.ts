import { AskAround, RecordAnswer, ThingAnswerList } from '@corewright/contracts/ask-around';
import { IdParam } from '@corewright/contracts/base';
import { Body, Controller, Get, HttpCode, Param, Post } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, hands } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { LoadNames } from '../later-names.js';
import { answersOn, askAround } from './ask-around.queries.js';
import { RecordAnswerHandler } from './record-answer.handler.js';

@Controller()
export class AskAroundController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly loads: LoadNames,
    private readonly recording: RecordAnswerHandler,
  ) {}

  @Get('ask-around')
  @Allow(everyone)
  @Answers(AskAround)
  list(): Promise<AskAround> {
    return askAround(this.database, this.loads);
  }

  @Get('things/:id/answers')
  @Allow(everyone)
  @Answers(ThingAnswerList)
  async answers(@Param({ schema: IdParam }) param: z.infer<typeof IdParam>): Promise<z.infer<typeof ThingAnswerList>> {
    return { answers: await answersOn(this.database, param.id) };
  }

  @Post('things/:id/answers')
  @Allow(hands)
  @Answers(ThingAnswerList)
  @HttpCode(200)
  record(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: z.infer<typeof IdParam>,
    @Body({ schema: RecordAnswer }) body: RecordAnswer,
  ): Promise<z.infer<typeof ThingAnswerList>> {
    return this.unitOfWork.run(command, (transaction) => this.recording.handle(transaction, param.id, body));
  }
}
