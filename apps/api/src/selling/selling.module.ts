import { Module } from '@nestjs/common';
import { CounterSettingsController } from './counter-settings.controller.js';
import { SalePreviews } from './sale-preview.js';
import { SellHandler } from './sell/sell.handler.js';
import { SellingController } from './selling.controller.js';
import { TakeBackSoldHandler } from './take-back/take-back-sold.handler.js';

/** Sales at the counter, their receipts, and what is kept from them. */
@Module({
  controllers: [SellingController, CounterSettingsController],
  providers: [SalePreviews, SellHandler, TakeBackSoldHandler],
})
export class SellingModule {}
