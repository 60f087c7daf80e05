import { Module, type OnModuleInit } from '@nestjs/common';
import { PartStock } from '../catalogue/part-stock.js';
import { AddReceiptHandler } from './add-receipt/add-receipt.handler.js';
import { BookArrivalHandler } from './book-arrival/book-arrival.handler.js';
import { EditReceiptHandler } from './edit-receipt/edit-receipt.handler.js';
import { receiptsOfPart } from './receipt.queries.js';
import { ReceiptsController } from './receipts.controller.js';

/** What was ordered and has not come, and its arrival. */
@Module({ controllers: [ReceiptsController], providers: [AddReceiptHandler, BookArrivalHandler, EditReceiptHandler] })
export class BuyingModule implements OnModuleInit {
  constructor(private readonly partStock: PartStock) {}

  onModuleInit(): void {
    this.partStock.registerReceipts(receiptsOfPart);
  }
}
