import { IdParam } from '@corewright/contracts/base';
import { FoundHere, NotThere, PostAway } from '@corewright/contracts/not-there';
import { Thing } from '@corewright/contracts/stores';
import { Body, Controller, HttpCode, Param, Post } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, hands, keepers } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Answers } from '../../platform/http/answers.js';
import { FoundHereHandler } from './found-here.handler.js';
import { MarkNotThereHandler } from './mark-not-there.handler.js';
import { PostAwayHandler } from './post-away.handler.js';

type IdOfPath = z.infer<typeof IdParam>;

/** What the books have and nobody finds. */
@Controller('things')
export class NotThereController {
  constructor(
    private readonly unitOfWork: UnitOfWork,
    private readonly mark: MarkNotThereHandler,
    private readonly found: FoundHereHandler,
    private readonly postAway: PostAwayHandler,
  ) {}

  @Post(':id/not-there')
  @Allow(hands)
  @Answers(Thing)
  @HttpCode(200)
  notThere(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: NotThere }) body: NotThere,
  ): Promise<Thing> {
    return this.unitOfWork.run(command, (transaction) => this.mark.handle(transaction, param.id, body));
  }

  @Post(':id/found')
  @Allow(hands)
  @Answers(Thing)
  @HttpCode(200)
  foundHere(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: FoundHere }) body: FoundHere,
  ): Promise<Thing> {
    return this.unitOfWork.run(command, (transaction) => this.found.handle(transaction, param.id, body.placeId));
  }

  @Post(':id/posting-away')
  @Allow(keepers)
  @Answers(Thing)
  @HttpCode(200)
  post(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: PostAway }) body: PostAway,
  ): Promise<Thing> {
    return this.unitOfWork.run(command, (transaction) => this.postAway.handle(transaction, param.id, body.reason));
  }
}
