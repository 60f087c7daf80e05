import { IdParam } from '@corewright/contracts/base';
import { EditLoadCost, KeepRowWorth, LoadCost, ShareLoadCost } from '@corewright/contracts/costs';
import { RowParam } from '@corewright/contracts/goods-in';
import { Body, Controller, Get, HttpCode, Param, Patch, Post, Put } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, keepers } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { notFound, RefusalError } from '../../platform/refusal.js';
import { EditCostHandler } from './edit-cost.handler.js';
import { KeepWorthHandler } from './keep-worth.handler.js';
import { loadCostPage } from './load-cost-page.js';
import { ShareCostHandler } from './share-cost.handler.js';

type IdOfPath = z.infer<typeof IdParam>;

/** What a load cost and how that is shared. Its figures are for those who keep the books. */
@Controller('loads')
export class LoadCostsController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly editCost: EditCostHandler,
    private readonly keepWorth: KeepWorthHandler,
    private readonly shareCost: ShareCostHandler,
  ) {}

  /** With what its cost would come to for each row by each way, before anything is written. */
  @Get(':id/cost')
  @Allow(keepers)
  @Answers(LoadCost)
  async cost(@Param({ schema: IdParam }) param: IdOfPath): Promise<LoadCost> {
    const page = await loadCostPage(this.database, param.id);
    if (page === null) throw new RefusalError(notFound('That load'));
    return page;
  }

  @Patch(':id/cost')
  @Allow(keepers)
  @Answers(LoadCost)
  @HttpCode(200)
  edit(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: EditLoadCost }) body: EditLoadCost,
  ): Promise<LoadCost> {
    return this.unitOfWork.run(command, (transaction) => this.editCost.handle(transaction, param.id, body));
  }

  @Put(':id/rows/:rowId/worth')
  @Allow(keepers)
  @Answers(LoadCost)
  @HttpCode(200)
  worth(
    @Issued() command: Command,
    @Param({ schema: RowParam }) param: z.infer<typeof RowParam>,
    @Body({ schema: KeepRowWorth }) body: z.infer<typeof KeepRowWorth>,
  ): Promise<LoadCost> {
    return this.unitOfWork.run(command, (transaction) => this.keepWorth.handle(transaction, param.id, param.rowId, body));
  }

  @Post(':id/cost-shares')
  @Allow(keepers)
  @Answers(LoadCost)
  @HttpCode(200)
  share(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: ShareLoadCost }) body: ShareLoadCost,
  ): Promise<LoadCost> {
    return this.unitOfWork.run(command, (transaction) => this.shareCost.handle(transaction, param.id, body));
  }
}
