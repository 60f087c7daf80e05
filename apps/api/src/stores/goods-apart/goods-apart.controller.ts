import { IdParam } from '@corewright/contracts/base';
import {
  ChangeOwner,
  Condemn,
  DisposeOf,
  HoldOn,
  HoldPlace,
  Holds,
  NotOurs,
  NotOursQuery,
  PlaceHeld,
  StandsApart,
} from '@corewright/contracts/goods-apart';
import { Thing } from '@corewright/contracts/stores';
import { Body, Controller, Get, HttpCode, Param, Post, Query } from '@nestjs/common';
import type * as z from 'zod';
import { WorkshopClock } from '../../people/workshop.js';
import { Allow, everyone, hands, keepers } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { ChangeHoldHandler } from '../change-hold/change-hold.handler.js';
import { ChangeOwnerHandler } from '../change-owner/change-owner.handler.js';
import { CondemnHandler } from '../condemn/condemn.handler.js';
import { DisposeOfHandler } from '../condemn/dispose-of.handler.js';
import { holdsOn } from './holds.queries.js';
import { GoodsNotOurs } from './not-ours.js';
import { standsApart } from './stands-apart.js';

type IdOfPath = z.infer<typeof IdParam>;

/** What stands apart from stock: held back, condemned, not ours. */
@Controller()
export class GoodsApartController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly clock: WorkshopClock,
    private readonly theirs: GoodsNotOurs,
    private readonly changeHold: ChangeHoldHandler,
    private readonly condemning: CondemnHandler,
    private readonly disposing: DisposeOfHandler,
    private readonly changingOwner: ChangeOwnerHandler,
  ) {}

  @Get('holds')
  @Allow(everyone)
  @Answers(Holds)
  async holds(): Promise<Holds> {
    return holdsOn(this.database, await this.clock.today());
  }

  @Get('not-ours')
  @Allow(everyone)
  @Answers(NotOurs)
  notOurs(@Query({ schema: NotOursQuery }) query: z.infer<typeof NotOursQuery>): Promise<NotOurs> {
    return this.theirs.of(this.database, query.ownerId ?? null);
  }

  @Get('things/:id/stands-apart')
  @Allow(everyone)
  @Answers(StandsApart)
  async standsApart(@Param({ schema: IdParam }) param: IdOfPath): Promise<StandsApart> {
    return standsApart(this.database, param.id, await this.clock.today());
  }

  @Post('places/:id/holds')
  @Allow(keepers)
  @Answers(PlaceHeld)
  @HttpCode(200)
  holdPlace(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: HoldPlace }) body: HoldPlace,
  ): Promise<PlaceHeld> {
    return this.unitOfWork.run(command, (transaction) => this.changeHold.place(transaction, param.id, body));
  }

  @Post('things/:id/hold-on')
  @Allow(hands)
  @Answers(Thing)
  @HttpCode(200)
  holdOn(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: HoldOn }) body: HoldOn,
  ): Promise<Thing> {
    return this.unitOfWork.run(command, (transaction) =>
      this.changeHold.handle(transaction, param.id, { act: 'hold on', ...body }),
    );
  }

  @Post('things/:id/condemnation')
  @Allow(keepers)
  @Answers(Thing)
  @HttpCode(200)
  condemn(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: Condemn }) body: Condemn,
  ): Promise<Thing> {
    return this.unitOfWork.run(command, (transaction) => this.condemning.handle(transaction, param.id, body));
  }

  @Post('things/:id/disposal')
  @Allow(keepers)
  @Answers(Thing)
  @HttpCode(200)
  disposeOf(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: DisposeOf }) body: DisposeOf,
  ): Promise<Thing> {
    return this.unitOfWork.run(command, (transaction) => this.disposing.handle(transaction, param.id, body));
  }

  @Post('things/:id/owner')
  @Allow(keepers)
  @Answers(Thing)
  @HttpCode(200)
  changeOwner(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: ChangeOwner }) body: ChangeOwner,
  ): Promise<Thing> {
    return this.unitOfWork.run(command, (transaction) => this.changingOwner.handle(transaction, param.id, body));
  }
}
