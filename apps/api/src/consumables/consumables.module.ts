import { Module, type OnModuleInit } from '@nestjs/common';
import { BenchModule } from '../bench/bench.module.js';
import { HistoryRegistry } from '../stores/history/history-registry.js';
import { ConsumablePages } from './consumable-pages.js';
import { ConsumablesController } from './consumables.controller.js';
import { containerHistory } from './container-history.js';
import { ContainersController } from './containers.controller.js';
import { WhatToBuy } from './minimums/to-buy.js';
import { KeepConsumableHandler } from './settings/keep-consumable.handler.js';
import { ChargeUsesAtBench } from './uses/at-bench.js';

/** What goes by the container: full, open, empty; what its use comes to on jobs; and what is below its minimum, of any part. */
@Module({
  imports: [BenchModule],
  controllers: [ConsumablesController, ContainersController],
  providers: [ChargeUsesAtBench, ConsumablePages, KeepConsumableHandler, WhatToBuy],
  exports: [WhatToBuy],
})
export class ConsumablesModule implements OnModuleInit {
  constructor(private readonly history: HistoryRegistry) {}

  onModuleInit(): void {
    this.history.register(containerHistory);
  }
}
