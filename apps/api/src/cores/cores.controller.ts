import { IdParam } from '@corewright/contracts/base';
import {
  BeginStripDown,
  CasingReplaced,
  GiveUsualFate,
  RecordStripFinding,
  ReplaceCasing,
  StripDown,
  StripDownFinished,
  StripDownOfUnit,
  StripFindingDone,
  UsualFateGiven,
} from '@corewright/contracts/cores';
import { Body, Controller, Get, HttpCode, Param, Post } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, hands } from '../platform/access/signed-in.js';
import { type Command, Issued } from '../platform/commands/command.js';
import { UnitOfWork } from '../platform/commands/unit-of-work.js';
import { Answers } from '../platform/http/answers.js';
import { BeginStripDownHandler } from './begin-strip-down/begin-strip-down.handler.js';
import { FinishStripDownHandler } from './finish-strip-down/finish-strip-down.handler.js';
import { GiveUsualFateHandler } from './give-usual-fate/give-usual-fate.handler.js';
import { RecordFindingHandler } from './record-finding/record-finding.handler.js';
import { ReplaceCasingHandler } from './replace-casing/replace-casing.handler.js';
import { StripDownPage } from './strip-down-page.js';

type IdOfPath = z.infer<typeof IdParam>;

@Controller()
export class CoresController {
  constructor(
    private readonly unitOfWork: UnitOfWork,
    private readonly page: StripDownPage,
    private readonly beginning: BeginStripDownHandler,
    private readonly recording: RecordFindingHandler,
    private readonly giving: GiveUsualFateHandler,
    private readonly finishing: FinishStripDownHandler,
    private readonly casings: ReplaceCasingHandler,
  ) {}

  /** The latest strip-down of a unit, and the units that a replaced casing links to it. */
  @Get('units/:id/strip-down')
  @Allow(everyone)
  @Answers(StripDownOfUnit)
  ofUnit(@Param({ schema: IdParam }) param: IdOfPath): Promise<StripDownOfUnit> {
    return this.page.ofUnit(param.id);
  }

  @Get('strip-downs/:id')
  @Allow(everyone)
  @Answers(StripDown)
  one(@Param({ schema: IdParam }) param: IdOfPath): Promise<StripDown> {
    return this.page.one(param.id);
  }

  @Post('units/:id/strip-downs')
  @HttpCode(200)
  @Allow(hands)
  @Answers(StripDown)
  begin(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: BeginStripDown }) body: BeginStripDown,
  ): Promise<StripDown> {
    return this.unitOfWork.run(command, (transaction) => this.beginning.handle(transaction, param.id, body));
  }

  @Post('strip-downs/:id/findings')
  @HttpCode(200)
  @Allow(hands)
  @Answers(StripFindingDone)
  record(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: RecordStripFinding }) body: RecordStripFinding,
  ): Promise<StripFindingDone> {
    return this.unitOfWork.run(command, (transaction) => this.recording.handle(transaction, param.id, body));
  }

  @Post('strip-downs/:id/usual-fate')
  @HttpCode(200)
  @Allow(hands)
  @Answers(UsualFateGiven)
  giveUsualFate(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: GiveUsualFate }) body: GiveUsualFate,
  ): Promise<UsualFateGiven> {
    return this.unitOfWork.run(command, (transaction) => this.giving.handle(transaction, param.id, body));
  }

  @Post('strip-downs/:id/finish')
  @HttpCode(200)
  @Allow(hands)
  @Answers(StripDownFinished)
  finish(@Issued() command: Command, @Param({ schema: IdParam }) param: IdOfPath): Promise<z.infer<typeof StripDownFinished>> {
    return this.unitOfWork.run(command, (transaction) => this.finishing.handle(transaction, param.id));
  }

  @Post('units/:id/casing-replacement')
  @HttpCode(200)
  @Allow(hands)
  @Answers(CasingReplaced)
  replaceCasing(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: ReplaceCasing }) body: ReplaceCasing,
  ): Promise<z.infer<typeof CasingReplaced>> {
    return this.unitOfWork.run(command, (transaction) => this.casings.handle(transaction, param.id, body));
  }
}
