import { Empty, IdParam } from '@corewright/contracts/base';
import {
  AtDesk,
  DeskRow,
  NameOpeningRow,
  NextAtDesk,
  OpeningSplit,
  OpeningWorth,
  ScrapOpeningRow,
  SplitOpeningRow,
} from '@corewright/contracts/opening-stock';
import { Body, Controller, Get, HttpCode, Param, Post } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, keepers } from '../platform/access/signed-in.js';
import { type Command, Issued } from '../platform/commands/command.js';
import { UnitOfWork } from '../platform/commands/unit-of-work.js';
import { Database } from '../platform/database/database.js';
import { Answers } from '../platform/http/answers.js';
import { openingWorth } from './desk/desk-row.queries.js';
import { NameRowHandler } from './desk/name-row.handler.js';
import { NextAtDeskHandler } from './desk/next-at-desk.handler.js';
import { SetByHandler } from './desk/set-by.handler.js';
import { SplitRowHandler } from './desk/split-row.handler.js';

type IdOfPath = z.infer<typeof IdParam>;

/** Opening stock at the desk: what was keyed at the shelves is named and costed by those who keep the books. */
@Controller('opening')
export class OpeningDeskController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly next: NextAtDeskHandler,
    private readonly nameRow: NameRowHandler,
    private readonly splitRow: SplitRowHandler,
    private readonly setBy: SetByHandler,
  ) {}

  @Get('worth')
  @Allow(keepers)
  @Answers(OpeningWorth)
  worth(): Promise<OpeningWorth> {
    return openingWorth(this.database);
  }

  @Post('desk')
  @Allow(keepers)
  @Answers(AtDesk)
  @HttpCode(200)
  take(@Issued() command: Command, @Body({ schema: NextAtDesk }) body: NextAtDesk): Promise<AtDesk> {
    return this.unitOfWork.run(command, (transaction) => this.next.handle(transaction, body));
  }

  @Post('rows/:id/name')
  @Allow(keepers)
  @Answers(DeskRow)
  @HttpCode(200)
  name(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: NameOpeningRow }) body: NameOpeningRow,
  ): Promise<z.infer<typeof DeskRow>> {
    return this.unitOfWork.run(command, (transaction) => this.nameRow.handle(transaction, param.id, body));
  }

  @Post('rows/:id/split')
  @Allow(keepers)
  @Answers(OpeningSplit)
  @HttpCode(200)
  split(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: SplitOpeningRow }) body: SplitOpeningRow,
  ): Promise<z.infer<typeof OpeningSplit>> {
    return this.unitOfWork.run(command, (transaction) => this.splitRow.handle(transaction, param.id, body));
  }

  @Post('rows/:id/ask')
  @Allow(keepers)
  @Answers(DeskRow)
  @HttpCode(200)
  ask(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: Empty }) _body: z.infer<typeof Empty>,
  ): Promise<z.infer<typeof DeskRow>> {
    return this.unitOfWork.run(command, (transaction) => this.setBy.ask(transaction, param.id));
  }

  @Post('rows/:id/scrap')
  @Allow(keepers)
  @Answers(DeskRow)
  @HttpCode(200)
  scrap(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: ScrapOpeningRow }) body: z.infer<typeof ScrapOpeningRow>,
  ): Promise<z.infer<typeof DeskRow>> {
    return this.unitOfWork.run(command, (transaction) => this.setBy.scrap(transaction, param.id, body.reason));
  }

  @Post('rows/:id/bring-back')
  @Allow(keepers)
  @Answers(DeskRow)
  @HttpCode(200)
  bringBack(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: Empty }) _body: z.infer<typeof Empty>,
  ): Promise<z.infer<typeof DeskRow>> {
    return this.unitOfWork.run(command, (transaction) => this.setBy.bringBack(transaction, param.id));
  }
}
