import { IdParam } from '@corewright/contracts/base';
import { BoxPage, NamedOutOfBox, NameOutOfBox, SayEmpty, TakingParam, UndoTaking } from '@corewright/contracts/boxes';
import { Body, Controller, Get, HttpCode, Param, Post } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, hands } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { notFound, RefusalError } from '../../platform/refusal.js';
import { boxPage } from './box-page.js';
import { NameOutOfBoxHandler } from './name-out-of-box.handler.js';
import { SayEmptyHandler } from './say-empty.handler.js';
import { UndoTakingHandler } from './undo-taking.handler.js';

type IdOfPath = z.infer<typeof IdParam>;

@Controller('boxes/:id')
export class BoxesController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly naming: NameOutOfBoxHandler,
    private readonly emptying: SayEmptyHandler,
    private readonly undoing: UndoTakingHandler,
  ) {}

  @Get()
  @Allow(everyone)
  @Answers(BoxPage)
  async box(@Param({ schema: IdParam }) param: IdOfPath): Promise<BoxPage> {
    const box = await boxPage(this.database, param.id);
    if (box === null) throw new RefusalError(notFound('That box'));
    return box;
  }

  @Post('takings')
  @Allow(hands)
  @Answers(NamedOutOfBox)
  @HttpCode(200)
  name(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: NameOutOfBox }) body: NameOutOfBox,
  ): Promise<NamedOutOfBox> {
    return this.unitOfWork.run(command, (transaction) => this.naming.handle(transaction, param.id, body));
  }

  @Post('takings/:takingId/undoing')
  @Allow(hands)
  @Answers(BoxPage)
  @HttpCode(200)
  undo(
    @Issued() command: Command,
    @Param({ schema: TakingParam }) param: z.infer<typeof TakingParam>,
    @Body({ schema: UndoTaking }) body: z.infer<typeof UndoTaking>,
  ): Promise<BoxPage> {
    return this.unitOfWork.run(command, (transaction) => this.undoing.handle(transaction, param.id, param.takingId, body.why));
  }

  @Post('emptying')
  @Allow(hands)
  @Answers(BoxPage)
  @HttpCode(200)
  sayEmpty(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: SayEmpty }) body: z.infer<typeof SayEmpty>,
  ): Promise<BoxPage> {
    return this.unitOfWork.run(command, (transaction) => this.emptying.handle(transaction, param.id, body.why));
  }
}
