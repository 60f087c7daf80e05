import { IdParam } from '@corewright/contracts/base';
import { MayServe, MayServeQuery, RecordRelation, RelationList, WithdrawRelation } from '@corewright/contracts/relations';
import { Body, Controller, Get, HttpCode, Param, Post, Query } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, keepers } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Answers } from '../../platform/http/answers.js';
import { notFound, RefusalError } from '../../platform/refusal.js';
import { MayServeAnswer } from './may-serve.js';
import { RecordRelationHandler } from './record-relation.handler.js';
import { WithdrawRelationHandler } from './withdraw-relation.handler.js';

type IdOfPath = z.infer<typeof IdParam>;

@Controller()
export class RelationsController {
  constructor(
    private readonly unitOfWork: UnitOfWork,
    private readonly answer: MayServeAnswer,
    private readonly record: RecordRelationHandler,
    private readonly withdraw: WithdrawRelationHandler,
  ) {}

  @Get('parts/:id/may-serve')
  @Allow(everyone)
  @Answers(MayServe)
  async mayServe(
    @Param({ schema: IdParam }) param: IdOfPath,
    @Query({ schema: MayServeQuery }) query: z.infer<typeof MayServeQuery>,
  ): Promise<MayServe> {
    const answer = await this.answer.of(param.id, query.standard ?? null);
    if (answer === null) throw new RefusalError(notFound('That part'));
    return answer;
  }

  @Post('parts/:id/relations')
  @Allow(keepers)
  @Answers(RelationList)
  @HttpCode(200)
  recordRelation(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: RecordRelation }) body: RecordRelation,
  ): Promise<z.infer<typeof RelationList>> {
    return this.unitOfWork.run(command, (transaction) => this.record.handle(transaction, param.id, body));
  }

  @Post('relations/:id/withdrawal')
  @Allow(keepers)
  @Answers(RelationList)
  @HttpCode(200)
  withdrawRelation(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: WithdrawRelation }) body: z.infer<typeof WithdrawRelation>,
  ): Promise<z.infer<typeof RelationList>> {
    return this.unitOfWork.run(command, (transaction) => this.withdraw.handle(transaction, param.id, body.why));
  }
}
