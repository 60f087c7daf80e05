import { Coded, Done, IdParam } from '@corewright/contracts/base';
import { ThingCost } from '@corewright/contracts/costs';
import {
  HoldBack,
  InspectLot,
  LiftHold,
  MovementPage,
  MovementQuery,
  PreserveLot,
  SettleFlag,
  TakeOffComponent,
  Thing,
} from '@corewright/contracts/stores';
import { Body, Controller, Get, HttpCode, Param, Post, Query, UseInterceptors } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, hands, keepers } from '../platform/access/signed-in.js';
import { type Command, Issued } from '../platform/commands/command.js';
import { UnitOfWork } from '../platform/commands/unit-of-work.js';
import { Database } from '../platform/database/database.js';
import { Answers } from '../platform/http/answers.js';
import { NextPageLink } from '../platform/http/next-page.js';
import { notFound, RefusalError } from '../platform/refusal.js';
import { ChangeHoldHandler } from './change-hold/change-hold.handler.js';
import { ThingCosts } from './costs/thing-cost.js';
import { InspectLotHandler } from './inspect-lot/inspect-lot.handler.js';
import { movementsOf } from './movement.queries.js';
import { PreserveLotHandler } from './preserve-lot/preserve-lot.handler.js';
import { SettleFlagHandler } from './settle-flag/settle-flag.handler.js';
import { TakeOffHandler } from './take-off/take-off.handler.js';
import { ThingPage } from './thing-page.js';

type IdOfPath = z.infer<typeof IdParam>;

@Controller()
export class ThingsController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly page: ThingPage,
    private readonly costs: ThingCosts,
    private readonly changeHold: ChangeHoldHandler,
    private readonly takeOff: TakeOffHandler,
    private readonly settleFlag: SettleFlagHandler,
    private readonly inspectLot: InspectLotHandler,
    private readonly preserveLot: PreserveLotHandler,
  ) {}

  @Get('things/:id')
  @Allow(everyone)
  @Answers(Thing)
  async thing(@Param({ schema: IdParam }) param: IdOfPath): Promise<Thing> {
    const thing = await this.page.of(this.database, param.id);
    if (thing === null) throw new RefusalError(notFound('That thing'));
    return thing;
  }

  /** What things cost is for those who keep the books. */
  @Get('things/:id/cost')
  @Allow(keepers)
  @Answers(ThingCost)
  async cost(@Param({ schema: IdParam }) param: IdOfPath): Promise<ThingCost> {
    const cost = await this.costs.of(this.database, param.id);
    if (cost === null) throw new RefusalError(notFound('That thing'));
    return cost;
  }

  @Get('things/:id/movements')
  @Allow(everyone)
  @Answers(MovementPage)
  @UseInterceptors(NextPageLink)
  movements(
    @Param({ schema: IdParam }) param: IdOfPath,
    @Query({ schema: MovementQuery }) query: z.infer<typeof MovementQuery>,
  ): Promise<z.infer<typeof MovementPage>> {
    return movementsOf(this.database, param.id, query.cursor);
  }

  @Post('things/:id/hold')
  @Allow(keepers)
  @Answers(Thing)
  @HttpCode(200)
  hold(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: HoldBack }) body: HoldBack,
  ): Promise<Thing> {
    return this.unitOfWork.run(command, (transaction) => this.changeHold.handle(transaction, param.id, { act: 'hold', ...body }));
  }

  /** A hold may name somebody who keeps no books as the one who lifts it; others at the bench are refused by name. */
  @Post('things/:id/hold-lift')
  @Allow(hands)
  @Answers(Thing)
  @HttpCode(200)
  liftHold(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: LiftHold }) body: z.infer<typeof LiftHold>,
  ): Promise<Thing> {
    return this.unitOfWork.run(command, (transaction) => this.changeHold.handle(transaction, param.id, { act: 'lift', ...body }));
  }

  @Post('things/:id/inspections')
  @Allow(keepers)
  @Answers(Thing)
  @HttpCode(200)
  inspect(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: InspectLot }) body: InspectLot,
  ): Promise<Thing> {
    return this.unitOfWork.run(command, (transaction) => this.inspectLot.handle(transaction, param.id, body));
  }

  @Post('things/:id/preservation')
  @Allow(keepers)
  @Answers(Thing)
  @HttpCode(200)
  preserve(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: PreserveLot }) body: PreserveLot,
  ): Promise<Thing> {
    return this.unitOfWork.run(command, (transaction) => this.preserveLot.handle(transaction, param.id, body));
  }

  @Post('units/:id/components')
  @Allow(hands)
  @Answers(Coded)
  @HttpCode(200)
  takeOffComponent(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: TakeOffComponent }) body: z.infer<typeof TakeOffComponent>,
  ): Promise<Coded> {
    return this.unitOfWork.run(command, (transaction) => this.takeOff.handle(transaction, param.id, body));
  }

  @Post('flags/:id/settle')
  @Allow(keepers)
  @Answers(Done)
  @HttpCode(200)
  settle(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: SettleFlag }) body: z.infer<typeof SettleFlag>,
  ): Promise<z.infer<typeof Done>> {
    return this.unitOfWork.run(command, (transaction) => this.settleFlag.handle(transaction, param.id, body.words));
  }
}
