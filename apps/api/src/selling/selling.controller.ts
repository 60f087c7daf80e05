import { IdParam } from '@corewright/contracts/base';
import {
  ReceiptQuery,
  Sale,
  SaleCosts,
  SaleList,
  SalePreview,
  SalePreviewQuery,
  SalesQuery,
  SaleTotals,
  Sell,
  TakeBackSold,
  TotalsQuery,
} from '@corewright/contracts/selling';
import { Body, Controller, Get, Header, HttpCode, Param, Post, Query, StreamableFile } from '@nestjs/common';
import { ApiOkResponse } from '@nestjs/swagger';
import type * as z from 'zod';
import { Allow, everyone, hands, keepers } from '../platform/access/signed-in.js';
import { type Command, Issued } from '../platform/commands/command.js';
import { UnitOfWork } from '../platform/commands/unit-of-work.js';
import { Database } from '../platform/database/database.js';
import { Answers } from '../platform/http/answers.js';
import { notFound, RefusalError } from '../platform/refusal.js';
import { costsOfSale, totalsOf } from './figures/sale-figures.js';
import { receiptPdf } from './receipt/receipt-pdf.js';
import { receiptText } from './receipt/receipt-text.js';
import { saleOf, salesPage } from './sale.queries.js';
import { SalePreviews } from './sale-preview.js';
import { SellHandler } from './sell/sell.handler.js';
import { TakeBackSoldHandler } from './take-back/take-back-sold.handler.js';

const pdfAnswer = { content: { 'application/pdf': { schema: { type: 'string', format: 'binary' } } } } as const;

@Controller()
export class SellingController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly previews: SalePreviews,
    private readonly selling: SellHandler,
    private readonly takingBack: TakeBackSoldHandler,
  ) {}

  /** What a sale would take from whom, and what stands in its way. */
  @Get('sale-preview')
  @Allow(everyone)
  @Answers(SalePreview)
  preview(@Query({ schema: SalePreviewQuery }) query: SalePreviewQuery): Promise<SalePreview> {
    return this.previews.of(query);
  }

  @Get('sales')
  @Allow(everyone)
  @Answers(SaleList)
  list(@Query({ schema: SalesQuery }) query: SalesQuery): Promise<SaleList> {
    return salesPage(this.database, query);
  }

  /** What was sold by day or month, and what it cost as far as anybody knows. */
  @Get('sale-totals')
  @Allow(keepers)
  @Answers(SaleTotals)
  totals(@Query({ schema: TotalsQuery }) query: TotalsQuery): Promise<SaleTotals> {
    return totalsOf(this.database, query);
  }

  @Get('sales/:id')
  @Allow(everyone)
  @Answers(Sale)
  async one(@Param({ schema: IdParam }) param: z.infer<typeof IdParam>): Promise<Sale> {
    const sale = await saleOf(this.database, param.id);
    if (sale === null) throw new RefusalError(notFound('That sale'));
    return sale;
  }

  @Get('sales/:id/costs')
  @Allow(keepers)
  @Answers(SaleCosts)
  costs(@Param({ schema: IdParam }) param: z.infer<typeof IdParam>): Promise<SaleCosts> {
    return costsOfSale(this.database, param.id);
  }

  @Get('sales/:id/receipt.pdf')
  @Allow(everyone)
  @ApiOkResponse(pdfAnswer)
  @Header('cache-control', 'private, no-store')
  async receipt(
    @Param({ schema: IdParam }) param: z.infer<typeof IdParam>,
    @Query({ schema: ReceiptQuery }) query: z.infer<typeof ReceiptQuery>,
  ): Promise<StreamableFile> {
    const text = await receiptText(this.database, param.id);
    if (text === null) throw new RefusalError(notFound('That sale'));
    const pdf = receiptPdf(text, query.paper);
    const disposition = `inline; filename="receipt-${text.number}.pdf"`;
    return new StreamableFile(pdf, { type: 'application/pdf', disposition, length: pdf.length });
  }

  @Post('sales')
  @Allow(hands)
  @Answers(Sale)
  @HttpCode(200)
  sell(@Issued() command: Command, @Body({ schema: Sell }) body: Sell): Promise<Sale> {
    return this.unitOfWork.run(command, (transaction) => this.selling.handle(transaction, body));
  }

  @Post('sales/:id/taking-back')
  @Allow(keepers)
  @Answers(Sale)
  @HttpCode(200)
  takeBack(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: z.infer<typeof IdParam>,
    @Body({ schema: TakeBackSold }) body: TakeBackSold,
  ): Promise<Sale> {
    return this.unitOfWork.run(command, (transaction) => this.takingBack.handle(transaction, param.id, body));
  }
}
