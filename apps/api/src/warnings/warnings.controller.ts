import { IdParam } from '@corewright/contracts/base';
import { SettleWarning, Warning, WarningList } from '@corewright/contracts/warnings';
import { Body, Controller, Get, HttpCode, Param, Post } from '@nestjs/common';
import { Allow, everyone, hands } from '../platform/access/signed-in.js';
import { type Command, Issued } from '../platform/commands/command.js';
import { UnitOfWork } from '../platform/commands/unit-of-work.js';
import { Database } from '../platform/database/database.js';
import { Answers } from '../platform/http/answers.js';
import { SettleWarningHandler } from './settle-warning/settle-warning.handler.js';
import { warningList } from './warning.queries.js';

@Controller('warnings')
export class WarningsController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly settling: SettleWarningHandler,
  ) {}

  @Get()
  @Allow(everyone)
  @Answers(WarningList)
  warnings(): Promise<WarningList> {
    return warningList(this.database);
  }

  @Post(':id/settle')
  @HttpCode(200)
  @Allow(hands)
  @Answers(Warning)
  settle(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: { id: string },
    @Body({ schema: SettleWarning }) body: SettleWarning,
  ): Promise<Warning> {
    return this.unitOfWork.run(command, (transaction) => this.settling.handle(transaction, param.id, body));
  }
}
