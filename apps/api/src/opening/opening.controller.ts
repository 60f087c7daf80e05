import { Empty, IdParam } from '@corewright/contracts/base';
import {
  AddShelf,
  KeepOpeningRow,
  OpeningProgress,
  OpeningRow,
  OpeningShelf,
  ShelfDone,
  StrikeOpeningRow,
} from '@corewright/contracts/opening-stock';
import { Body, Controller, Get, HttpCode, Param, Post, Put } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, hands } from '../platform/access/signed-in.js';
import { type Command, Issued } from '../platform/commands/command.js';
import { UnitOfWork } from '../platform/commands/unit-of-work.js';
import { Database } from '../platform/database/database.js';
import { Answers } from '../platform/http/answers.js';
import { notFound, RefusalError } from '../platform/refusal.js';
import { KeepOpeningRowHandler } from './keep-row/keep-row.handler.js';
import { StrikeOpeningRowHandler } from './keep-row/strike-row.handler.js';
import { shelfPage } from './opening-row.queries.js';
import { ChangeShelfHandler } from './shelf/change-shelf.handler.js';
import { openingProgress } from './shelf/progress.queries.js';

type IdOfPath = z.infer<typeof IdParam>;

/** Opening stock at the shelf: whoever works with things keys what lies there. */
@Controller('opening')
export class OpeningController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly shelves: ChangeShelfHandler,
    private readonly keepRow: KeepOpeningRowHandler,
    private readonly strikeRow: StrikeOpeningRowHandler,
  ) {}

  @Get()
  @Allow(everyone)
  @Answers(OpeningProgress)
  progress(): Promise<OpeningProgress> {
    return openingProgress(this.database);
  }

  @Post('places')
  @Allow(hands)
  @Answers(OpeningShelf)
  @HttpCode(200)
  add(@Issued() command: Command, @Body({ schema: AddShelf }) body: z.infer<typeof AddShelf>): Promise<OpeningShelf> {
    return this.unitOfWork.run(command, (transaction) => this.shelves.add(transaction, body));
  }

  @Get('places/:id')
  @Allow(everyone)
  @Answers(OpeningShelf)
  async shelf(@Param({ schema: IdParam }) param: IdOfPath): Promise<OpeningShelf> {
    const shelf = await shelfPage(this.database, param.id);
    if (shelf === null) throw new RefusalError(notFound('That place'));
    return shelf;
  }

  @Post('places/:id/done')
  @Allow(hands)
  @Answers(OpeningShelf)
  @HttpCode(200)
  done(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: ShelfDone }) body: ShelfDone,
  ): Promise<OpeningShelf> {
    return this.unitOfWork.run(command, (transaction) => this.shelves.done(transaction, param.id, body));
  }

  @Post('places/:id/open')
  @Allow(hands)
  @Answers(OpeningShelf)
  @HttpCode(200)
  open(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: Empty }) _body: z.infer<typeof Empty>,
  ): Promise<OpeningShelf> {
    return this.unitOfWork.run(command, (transaction) => this.shelves.open(transaction, param.id));
  }

  /** A new row comes without If-Match and with an id that the client made; a row that is put right comes with the version that was seen. */
  @Put('rows/:id')
  @Allow(hands)
  @Answers(OpeningRow)
  @HttpCode(200)
  keep(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: KeepOpeningRow }) body: KeepOpeningRow,
  ): Promise<OpeningRow> {
    return this.unitOfWork.run(command, (transaction) => this.keepRow.handle(transaction, param.id, body));
  }

  @Post('rows/:id/strike')
  @Allow(hands)
  @Answers(OpeningRow)
  @HttpCode(200)
  strike(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: StrikeOpeningRow }) body: z.infer<typeof StrikeOpeningRow>,
  ): Promise<OpeningRow> {
    return this.unitOfWork.run(command, (transaction) => this.strikeRow.handle(transaction, param.id, body.reason));
  }
}
