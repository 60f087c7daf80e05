import { IdParam } from '@corewright/contracts/base';
import { LabelChanged, LabelsBorne, PutLabelOn, ReplaceLabel, TakeLabelOff } from '@corewright/contracts/label-changes';
import { CodeParam } from '@corewright/contracts/labels';
import { Body, Controller, Get, HttpCode, Param, Post } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, hands } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { notFound, RefusalError } from '../../platform/refusal.js';
import { ChangeLabels } from './change-labels.handlers.js';
import { labelsBorne } from './labels-borne.queries.js';

type CodeOfPath = z.infer<typeof CodeParam>;

/** What bears which labels, and how that changes. */
@Controller()
export class LabelChangesController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly change: ChangeLabels,
  ) {}

  /** By the id of a thing or a place. */
  @Get('label-bearers/:id')
  @Allow(everyone)
  @Answers(LabelsBorne)
  async borne(@Param({ schema: IdParam }) param: z.infer<typeof IdParam>): Promise<LabelsBorne> {
    const borne = await labelsBorne(this.database, param.id);
    if (borne === null) throw new RefusalError(notFound('That'));
    return borne;
  }

  @Post('labels/:code/replacement')
  @Allow(hands)
  @Answers(LabelChanged)
  @HttpCode(200)
  replace(
    @Issued() command: Command,
    @Param({ schema: CodeParam }) param: CodeOfPath,
    @Body({ schema: ReplaceLabel }) body: ReplaceLabel,
  ): Promise<LabelChanged> {
    return this.unitOfWork.run(command, (transaction) => this.change.replace(transaction, param.code, body));
  }

  @Post('labels/:code/further')
  @Allow(hands)
  @Answers(LabelChanged)
  @HttpCode(200)
  putFurther(
    @Issued() command: Command,
    @Param({ schema: CodeParam }) param: CodeOfPath,
    @Body({ schema: PutLabelOn }) body: PutLabelOn,
  ): Promise<LabelChanged> {
    return this.unitOfWork.run(command, (transaction) => this.change.putFurther(transaction, param.code, body));
  }

  @Post('labels/:code/taking-off')
  @Allow(hands)
  @Answers(LabelChanged)
  @HttpCode(200)
  takeOff(
    @Issued() command: Command,
    @Param({ schema: CodeParam }) param: CodeOfPath,
    @Body({ schema: TakeLabelOff }) body: TakeLabelOff,
  ): Promise<LabelChanged> {
    return this.unitOfWork.run(command, (transaction) => this.change.takeOff(transaction, param.code, body.why));
  }
}
