import { Id, IdParam, PlainDate } from '@corewright/contracts/base';
import { AddReceipt, Arrival, Arrived, EditReceipt, Receipt, ReceiptList, ReceiptQuery } from '@corewright/contracts/buying';
import { Body, Controller, Get, HttpCode, Param, Patch, Post, Query, UseInterceptors } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, keepers } from '../platform/access/signed-in.js';
import { type Command, Issued } from '../platform/commands/command.js';
import { UnitOfWork } from '../platform/commands/unit-of-work.js';
import { Database } from '../platform/database/database.js';
import { Answers } from '../platform/http/answers.js';
import { cursorOf, NextPageLink, placeOf } from '../platform/http/next-page.js';
import { badInput, RefusalError } from '../platform/refusal.js';
import { AddReceiptHandler } from './add-receipt/add-receipt.handler.js';
import { BookArrivalHandler } from './book-arrival/book-arrival.handler.js';
import { EditReceiptHandler } from './edit-receipt/edit-receipt.handler.js';
import { listReceipts, noDueDate } from './receipt.queries.js';

@Controller('receipts')
export class ReceiptsController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly addReceipt: AddReceiptHandler,
    private readonly editReceipt: EditReceiptHandler,
    private readonly bookArrival: BookArrivalHandler,
  ) {}

  @Get()
  @Allow(everyone)
  @UseInterceptors(NextPageLink)
  @Answers(ReceiptList)
  async list(@Query({ schema: ReceiptQuery }) query: z.infer<typeof ReceiptQuery>): Promise<z.infer<typeof ReceiptList>> {
    const position = placeOf(query.cursor, ['string', 'uuid']);
    const found = await listReceipts(this.database, {
      open: query.open === undefined ? null : query.open === 'yes',
      partId: query.partId ?? null,
      after: position && placeInList(position),
      limit: query.limit + 1,
    });
    const receipts = found.slice(0, query.limit);
    const last = receipts.at(-1);
    const cursor = found.length > query.limit && last ? cursorOf([last.dueOn ?? noDueDate, last.id]) : null;
    return { receipts, cursor };
  }

  @Post()
  @Allow(keepers)
  @Answers(Receipt)
  @HttpCode(200)
  add(@Issued() command: Command, @Body({ schema: AddReceipt }) body: z.infer<typeof AddReceipt>): Promise<Receipt> {
    return this.unitOfWork.run(command, (transaction) => this.addReceipt.handle(transaction, body));
  }

  @Patch(':id')
  @Allow(keepers)
  @Answers(Receipt)
  edit(
    @Issued() command: Command,
    @Param({ schema: IdParam }) { id }: z.infer<typeof IdParam>,
    @Body({ schema: EditReceipt }) body: z.infer<typeof EditReceipt>,
  ): Promise<Receipt> {
    return this.unitOfWork.run(command, (transaction) => this.editReceipt.handle(transaction, id, body));
  }

  @Post(':id/arrivals')
  @Allow(keepers)
  @Answers(Arrived)
  @HttpCode(200)
  arrive(
    @Issued() command: Command,
    @Param({ schema: IdParam }) { id }: z.infer<typeof IdParam>,
    @Body({ schema: Arrival }) body: z.infer<typeof Arrival>,
  ): Promise<z.infer<typeof Arrived>> {
    return this.unitOfWork.run(command, (transaction) => this.bookArrival.handle(transaction, id, body));
  }
}

/** Where the list goes on: the due date and the order that were last. @throws RefusalError for a made-up cursor */
function placeInList(position: (string | number)[]): { dueOn: string; id: string } {
  const dueOn = PlainDate.safeParse(position[0]);
  const id = Id.safeParse(position[1]);
  if (!dueOn.success || !id.success)
    throw new RefusalError(badInput('cursor', 'That is not a cursor of this list. Begin the list again.'));
  return { dueOn: dueOn.data, id: id.data };
}
