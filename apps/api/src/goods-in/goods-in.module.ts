import { Module, type OnModuleInit } from '@nestjs/common';
import { LabelRegister } from '../labels/label-register.js';
import { HistoryRegistry } from '../stores/history/history-registry.js';
import { CostGaps, LoadNames } from '../stores/later-names.js';
import { BoxesController } from './boxes/boxes.controller.js';
import { NameOutOfBoxHandler } from './boxes/name-out-of-box.handler.js';
import { SayEmptyHandler } from './boxes/say-empty.handler.js';
import { UndoTakingHandler } from './boxes/undo-taking.handler.js';
import { EditCostHandler } from './costs/edit-cost.handler.js';
import { KeepWorthHandler } from './costs/keep-worth.handler.js';
import { gapsOfLoads } from './costs/load-cost.queries.js';
import { LoadCostsController } from './costs/load-costs.controller.js';
import { ShareCostHandler } from './costs/share-cost.handler.js';
import { GoodsInController } from './goods-in.controller.js';
import { codesOfLoad, loadsOfThings } from './load.queries.js';
import { arrivalHistory } from './load-history.js';
import { OpenLoadHandler } from './open-load/open-load.handler.js';
import { RowQueries } from './row.queries.js';
import { SaveRowHandler } from './save-row/save-row.handler.js';
import { StrikeRowHandler } from './strike-row/strike-row.handler.js';
import { WhoRelies } from './who-relies.js';

/** What came off the van: loads, their rows and what they cost, and boxes that are emptied later. */
@Module({
  controllers: [BoxesController, GoodsInController, LoadCostsController],
  providers: [
    EditCostHandler,
    KeepWorthHandler,
    NameOutOfBoxHandler,
    OpenLoadHandler,
    RowQueries,
    SaveRowHandler,
    SayEmptyHandler,
    ShareCostHandler,
    StrikeRowHandler,
    UndoTakingHandler,
    WhoRelies,
  ],
  exports: [WhoRelies],
})
export class GoodsInModule implements OnModuleInit {
  constructor(
    private readonly loadNames: LoadNames,
    private readonly costGaps: CostGaps,
    private readonly labels: LabelRegister,
    private readonly history: HistoryRegistry,
  ) {}

  onModuleInit(): void {
    this.history.register(arrivalHistory);
    this.loadNames.register(loadsOfThings);
    this.costGaps.register(gapsOfLoads);
    this.labels.registerLoads(codesOfLoad);
  }
}
