import { Module, type OnModuleInit } from '@nestjs/common';
import { HistoryRegistry } from '../stores/history/history-registry.js';
import { CounterSettingsController } from './counter-settings.controller.js';
import { sellingHistory } from './sale-history.js';
import { SalePreviews } from './sale-preview.js';
import { SellHandler } from './sell/sell.handler.js';
import { SellingController } from './selling.controller.js';
import { TakeBackSoldHandler } from './take-back/take-back-sold.handler.js';

/** Sales at the counter, their receipts, and what is kept from them. */
@Module({
  controllers: [SellingController, CounterSettingsController],
  providers: [SalePreviews, SellHandler, TakeBackSoldHandler],
})
export class SellingModule implements OnModuleInit {
  constructor(private readonly history: HistoryRegistry) {}

  onModuleInit(): void {
    this.history.register(...sellingHistory);
  }
}
