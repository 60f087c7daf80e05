import { Module, type OnModuleInit } from '@nestjs/common';
import { LabelRegister } from '../labels/label-register.js';
import { CostGaps, LoadNames } from '../stores/later-names.js';
import { EditCostHandler } from './costs/edit-cost.handler.js';
import { KeepWorthHandler } from './costs/keep-worth.handler.js';
import { gapsOfLoads } from './costs/load-cost.queries.js';
import { LoadCostsController } from './costs/load-costs.controller.js';
import { ShareCostHandler } from './costs/share-cost.handler.js';
import { GoodsInController } from './goods-in.controller.js';
import { codesOfLoad, loadsOfThings } from './load.queries.js';
import { OpenLoadHandler } from './open-load/open-load.handler.js';
import { RowQueries } from './row.queries.js';
import { SaveRowHandler } from './save-row/save-row.handler.js';
import { StrikeRowHandler } from './strike-row/strike-row.handler.js';

/** What came off the van: loads, their rows and what they cost. */
@Module({
  controllers: [GoodsInController, LoadCostsController],
  providers: [EditCostHandler, KeepWorthHandler, OpenLoadHandler, RowQueries, SaveRowHandler, ShareCostHandler, StrikeRowHandler],
})
export class GoodsInModule implements OnModuleInit {
  constructor(
    private readonly loadNames: LoadNames,
    private readonly costGaps: CostGaps,
    private readonly labels: LabelRegister,
  ) {}

  onModuleInit(): void {
    this.loadNames.register(loadsOfThings);
    this.costGaps.register(gapsOfLoads);
    this.labels.registerLoads(codesOfLoad);
  }
}
