import { IdParam } from '@corewright/contracts/base';
import { TrayContents, UndoUnKit, UnKit, UnKitDone } from '@corewright/contracts/un-kit';
import { Body, Controller, Get, HttpCode, Param, Post } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, hands } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { notFound, RefusalError } from '../../platform/refusal.js';
import { UnKitHandler } from './un-kit.handler.js';
import { trayContents } from './un-kit.queries.js';
import { UndoUnKitHandler } from './undo-un-kit.handler.js';

type IdOfPath = z.infer<typeof IdParam>;

@Controller()
export class UnKitController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly unKitting: UnKitHandler,
    private readonly undoing: UndoUnKitHandler,
  ) {}

  /** What lies in a job's tray, and where each of it came from. */
  @Get('jobs/:id/tray-contents')
  @Allow(everyone)
  @Answers(TrayContents)
  async contents(@Param({ schema: IdParam }) param: IdOfPath): Promise<TrayContents> {
    const contents = await trayContents(this.database, param.id);
    if (contents === null) throw new RefusalError(notFound('This job'));
    return contents;
  }

  @Post('jobs/:id/un-kits')
  @Allow(hands)
  @Answers(UnKitDone)
  @HttpCode(200)
  unKit(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: UnKit }) body: UnKit,
  ): Promise<UnKitDone> {
    return this.unitOfWork.run(command, (transaction) => this.unKitting.handle(transaction, param.id, body));
  }

  @Post('un-kits/:id/undoing')
  @Allow(hands)
  @Answers(UnKitDone)
  @HttpCode(200)
  undo(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: UndoUnKit }) body: z.infer<typeof UndoUnKit>,
  ): Promise<UnKitDone> {
    return this.unitOfWork.run(command, (transaction) => this.undoing.handle(transaction, param.id, body.id));
  }
}
