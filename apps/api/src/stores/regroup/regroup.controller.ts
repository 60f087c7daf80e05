import { IdParam } from '@corewright/contracts/base';
import { LotRegrouped, MergeLot, PutLotRight, Regroupings, SplitLot } from '@corewright/contracts/regrouping';
import { Thing } from '@corewright/contracts/stores';
import { Body, Controller, Get, HttpCode, Param, Post } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, hands, keepers } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { notFound, RefusalError } from '../../platform/refusal.js';
import { MergeLotHandler } from './merge-lot.handler.js';
import { PutLotRightHandler } from './put-lot-right.handler.js';
import { regroupingsOf } from './regrouping.queries.js';
import { SplitLotHandler } from './split-lot.handler.js';

type IdOfPath = z.infer<typeof IdParam>;

/** Bags that turn out to be two, or one. */
@Controller('things')
export class RegroupController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly splitLot: SplitLotHandler,
    private readonly mergeLot: MergeLotHandler,
    private readonly putLotRight: PutLotRightHandler,
  ) {}

  @Get(':id/regroupings')
  @Allow(everyone)
  @Answers(Regroupings)
  async regroupings(@Param({ schema: IdParam }) param: IdOfPath): Promise<Regroupings> {
    const found = await regroupingsOf(this.database, param.id);
    if (found === null) throw new RefusalError(notFound('That thing'));
    return found;
  }

  @Post(':id/splitting')
  @Allow(hands)
  @Answers(LotRegrouped)
  @HttpCode(200)
  split(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: SplitLot }) body: SplitLot,
  ): Promise<LotRegrouped> {
    return this.unitOfWork.run(command, (transaction) => this.splitLot.handle(transaction, param.id, body));
  }

  @Post(':id/merging')
  @Allow(keepers)
  @Answers(LotRegrouped)
  @HttpCode(200)
  merge(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: MergeLot }) body: MergeLot,
  ): Promise<LotRegrouped> {
    return this.unitOfWork.run(command, (transaction) => this.mergeLot.handle(transaction, param.id, body));
  }

  @Post(':id/putting-right')
  @Allow(keepers)
  @Answers(Thing)
  @HttpCode(200)
  putRight(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: PutLotRight }) body: PutLotRight,
  ): Promise<Thing> {
    return this.unitOfWork.run(command, (transaction) => this.putLotRight.handle(transaction, param.id, body));
  }
}
