import { IdParam } from '@corewright/contracts/base';
import {
  CountDifferences,
  CountMark,
  CountPage,
  CountSettings,
  DecideCountLines,
  EditCountMark,
  EditCountSettings,
  EndCount,
  SettleCountFinding,
  TakeDecisionBack,
} from '@corewright/contracts/counting';
import { Body, Controller, Get, HttpCode, Param, Post, Put } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, keepers } from '../platform/access/signed-in.js';
import { type Command, Issued } from '../platform/commands/command.js';
import { UnitOfWork } from '../platform/commands/unit-of-work.js';
import { Database } from '../platform/database/database.js';
import { Answers } from '../platform/http/answers.js';
import { notFound, RefusalError } from '../platform/refusal.js';
import { DecideLinesHandler } from './decide/decide-lines.handler.js';
import { TakeDecisionBackHandler } from './decide/take-back.handler.js';
import { Differences } from './differences.js';
import { EndCountHandler } from './end-count/end-count.handler.js';
import { SettleFindingHandler } from './find/settle-finding.handler.js';
import { countRow } from './open-count.js';
import { editCountMark, editCountSettings } from './schedule/settings.js';

type IdOfPath = z.infer<typeof IdParam>;

/** What becomes of what was counted: for those who keep the books. */
@Controller()
export class CountKeepingController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly shown: Differences,
    private readonly deciding: DecideLinesHandler,
    private readonly takingBack: TakeDecisionBackHandler,
    private readonly settling: SettleFindingHandler,
    private readonly ending: EndCountHandler,
  ) {}

  @Get('counts/:id/differences')
  @Allow(keepers)
  @Answers(CountDifferences)
  async differences(@Param({ schema: IdParam }) param: IdOfPath): Promise<CountDifferences> {
    const count = await countRow(this.database, param.id);
    if (count === null) throw new RefusalError(notFound('This count'));
    return this.shown.of(this.database, count);
  }

  @Post('counts/:id/decisions')
  @HttpCode(200)
  @Allow(keepers)
  @Answers(CountDifferences)
  decide(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: DecideCountLines }) body: DecideCountLines,
  ): Promise<CountDifferences> {
    return this.unitOfWork.run(command, (transaction) => this.deciding.handle(transaction, param.id, body));
  }

  @Post('count-decisions/:id/take-back')
  @HttpCode(200)
  @Allow(keepers)
  @Answers(CountDifferences)
  takeBack(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: TakeDecisionBack }) body: z.infer<typeof TakeDecisionBack>,
  ): Promise<CountDifferences> {
    return this.unitOfWork.run(command, (transaction) => this.takingBack.handle(transaction, param.id, body.why));
  }

  @Post('count-findings/:id/end')
  @HttpCode(200)
  @Allow(keepers)
  @Answers(CountPage)
  settle(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: SettleCountFinding }) body: SettleCountFinding,
  ): Promise<CountPage> {
    return this.unitOfWork.run(command, (transaction) => this.settling.handle(transaction, param.id, body));
  }

  @Post('counts/:id/end')
  @HttpCode(200)
  @Allow(keepers)
  @Answers(CountPage)
  end(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: EndCount }) body: EndCount,
  ): Promise<CountPage> {
    return this.unitOfWork.run(command, (transaction) => this.ending.handle(transaction, param.id, body));
  }

  @Put('count-settings')
  @Allow(keepers)
  @Answers(CountSettings)
  settings(@Issued() command: Command, @Body({ schema: EditCountSettings }) body: EditCountSettings): Promise<CountSettings> {
    return this.unitOfWork.run(command, (transaction) => editCountSettings(transaction, body));
  }

  @Put('parts/:id/count-mark')
  @Allow(keepers)
  @Answers(CountMark)
  mark(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: EditCountMark }) body: z.infer<typeof EditCountMark>,
  ): Promise<CountMark> {
    return this.unitOfWork.run(command, (transaction) => editCountMark(transaction, param.id, body.scarce));
  }
}
