import { IdParam } from '@corewright/contracts/base';
import {
  AddFoundProperty,
  AddKeptNote,
  EndKept,
  KeepForOwner,
  KeptForOwner,
  KeptForOwners,
} from '@corewright/contracts/goods-apart';
import { Body, Controller, Get, HttpCode, Param, Post } from '@nestjs/common';
import type * as z from 'zod';
import { WorkshopClock } from '../../people/workshop.js';
import { Allow, everyone, hands, keepers } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { AddFoundPropertyHandler } from './add-found-property.handler.js';
import { EndKeptHandler } from './end-kept.handler.js';
import { KeepForOwnerHandler } from './keep-for-owner.handler.js';
import { keptBefore, keptNow } from './kept.queries.js';

type IdOfPath = z.infer<typeof IdParam>;

/** Found property, and what waits to be collected or decided on. */
@Controller()
export class KeptForOwnersController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly clock: WorkshopClock,
    private readonly adding: AddFoundPropertyHandler,
    private readonly keeping: KeepForOwnerHandler,
    private readonly ending: EndKeptHandler,
  ) {}

  @Get('kept-for-owners')
  @Allow(everyone)
  @Answers(KeptForOwners)
  async list(): Promise<KeptForOwners> {
    const today = await this.clock.today();
    const [kept, ended] = await Promise.all([keptNow(this.database, today), keptBefore(this.database, today)]);
    return { today, kept, ended };
  }

  @Post('found-property')
  @Allow(hands)
  @Answers(KeptForOwner)
  @HttpCode(200)
  found(@Issued() command: Command, @Body({ schema: AddFoundProperty }) body: AddFoundProperty): Promise<KeptForOwner> {
    return this.unitOfWork.run(command, (transaction) => this.adding.handle(transaction, body));
  }

  @Post('things/:id/kept-for-owner')
  @Allow(keepers)
  @Answers(KeptForOwner)
  @HttpCode(200)
  keep(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: KeepForOwner }) body: KeepForOwner,
  ): Promise<KeptForOwner> {
    return this.unitOfWork.run(command, (transaction) => this.keeping.keep(transaction, param.id, body));
  }

  @Post('kept-for-owners/:id/notes')
  @Allow(hands)
  @Answers(KeptForOwner)
  @HttpCode(200)
  note(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: AddKeptNote }) body: AddKeptNote,
  ): Promise<KeptForOwner> {
    return this.unitOfWork.run(command, (transaction) => this.keeping.note(transaction, param.id, body));
  }

  @Post('kept-for-owners/:id/ending')
  @Allow(keepers)
  @Answers(KeptForOwner)
  @HttpCode(200)
  end(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: EndKept }) body: EndKept,
  ): Promise<KeptForOwner> {
    return this.unitOfWork.run(command, (transaction) => this.ending.handle(transaction, param.id, body));
  }
}
