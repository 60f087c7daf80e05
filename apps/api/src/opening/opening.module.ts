import { Module, type OnModuleInit } from '@nestjs/common';
import { GoodsInModule } from '../goods-in/goods-in.module.js';
import { HistoryRegistry } from '../stores/history/history-registry.js';
import { CostOfRow } from './desk/cost-of-row.js';
import { NameRowHandler } from './desk/name-row.handler.js';
import { NextAtDeskHandler } from './desk/next-at-desk.handler.js';
import { SetByHandler } from './desk/set-by.handler.js';
import { SplitRowHandler } from './desk/split-row.handler.js';
import { KeepOpeningRowHandler } from './keep-row/keep-row.handler.js';
import { StrikeOpeningRowHandler } from './keep-row/strike-row.handler.js';
import { OpeningController } from './opening.controller.js';
import { OpeningDeskController } from './opening-desk.controller.js';
import { openingHistory } from './opening-history.js';
import { ChangeShelfHandler } from './shelf/change-shelf.handler.js';

/** What lay on the shelves before the books began: keyed at the shelf, named and costed at a desk. */
@Module({
  imports: [GoodsInModule],
  controllers: [OpeningController, OpeningDeskController],
  providers: [
    ChangeShelfHandler,
    CostOfRow,
    KeepOpeningRowHandler,
    NameRowHandler,
    NextAtDeskHandler,
    SetByHandler,
    SplitRowHandler,
    StrikeOpeningRowHandler,
  ],
})
export class OpeningModule implements OnModuleInit {
  constructor(private readonly history: HistoryRegistry) {}

  onModuleInit(): void {
    this.history.register(openingHistory);
  }
}
