import { IdParam } from '@corewright/contracts/base';
import { CoreAges, CoreReviewList, CoreReviewMarks, EditCoreReviewMarks, ReviewCore } from '@corewright/contracts/core-ages';
import { Body, Controller, Get, HttpCode, Param, Post, Put } from '@nestjs/common';
import { Allow, everyone, keepers } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { reviewsOf } from './core-age.queries.js';
import { CoreAgeing } from './core-ages.js';
import { editReviewMarks } from './edit-review-marks.js';
import { ReviewCoreHandler } from './review-core.handler.js';

@Controller()
export class CoreAgesController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly ageing: CoreAgeing,
    private readonly reviewing: ReviewCoreHandler,
  ) {}

  /** Cores by how long they have lain in the yard, and which of them somebody is to look through. */
  @Get('core-ages')
  @Allow(everyone)
  @Answers(CoreAges)
  ages(): Promise<CoreAges> {
    return this.ageing.ages();
  }

  @Get('units/:id/core-reviews')
  @Allow(everyone)
  @Answers(CoreReviewList)
  async reviews(@Param({ schema: IdParam }) param: { id: string }): Promise<CoreReviewList> {
    return { reviews: await reviewsOf(this.database, param.id) };
  }

  @Post('units/:id/core-reviews')
  @HttpCode(200)
  @Allow(keepers)
  @Answers(CoreReviewList)
  review(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: { id: string },
    @Body({ schema: ReviewCore }) body: ReviewCore,
  ): Promise<CoreReviewList> {
    return this.unitOfWork.run(command, (transaction) => this.reviewing.handle(transaction, param.id, body));
  }

  @Put('core-review-marks')
  @Allow(keepers)
  @Answers(CoreReviewMarks)
  marks(@Issued() command: Command, @Body({ schema: EditCoreReviewMarks }) body: EditCoreReviewMarks): Promise<CoreReviewMarks> {
    return this.unitOfWork.run(command, (transaction) => editReviewMarks(transaction, body));
  }
}
