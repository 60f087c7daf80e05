import { IdParam } from '@corewright/contracts/base';
import { BindSet, BreakSet, KeptSet, KeptSetList } from '@corewright/contracts/kept-sets';
import { Body, Controller, Get, HttpCode, Param, Post } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, hands } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { ClaimantNames } from '../later-names.js';
import { KeptSetHandler } from './bind-set.handler.js';
import { keptSets, setsOfThing } from './kept-set.queries.js';

@Controller()
export class KeptSetsController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly claimants: ClaimantNames,
    private readonly sets: KeptSetHandler,
  ) {}

  /** The sets that a thing is of, or was of before they were broken. */
  @Get('things/:id/kept-sets')
  @Allow(everyone)
  @Answers(KeptSetList)
  async ofThing(@Param({ schema: IdParam }) param: { id: string }): Promise<z.infer<typeof KeptSetList>> {
    return { sets: await keptSets(this.database, await setsOfThing(this.database, param.id), this.claimants) };
  }

  @Post('kept-sets')
  @HttpCode(200)
  @Allow(hands)
  @Answers(KeptSetList)
  bind(@Issued() command: Command, @Body({ schema: BindSet }) body: BindSet): Promise<z.infer<typeof KeptSetList>> {
    return this.unitOfWork.run(command, (transaction) => this.sets.bind(transaction, body));
  }

  @Post('kept-sets/:id/breaking')
  @HttpCode(200)
  @Allow(hands)
  @Answers(KeptSet)
  break(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: { id: string },
    @Body({ schema: BreakSet }) body: BreakSet,
  ): Promise<KeptSet> {
    return this.unitOfWork.run(command, (transaction) => this.sets.break(transaction, param.id, body));
  }
}
