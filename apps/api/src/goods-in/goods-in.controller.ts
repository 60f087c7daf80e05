import { IdParam } from '@corewright/contracts/base';
import {
  LoadBrief,
  LoadList,
  LoadPage,
  LoadQuery,
  LoadRow,
  OpenLoad,
  RowInput,
  RowParam,
  StrikeRow,
} from '@corewright/contracts/goods-in';
import { Body, Controller, Get, HttpCode, Param, Post, Put, Query, UseInterceptors } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, keepers } from '../platform/access/signed-in.js';
import { type Command, Issued } from '../platform/commands/command.js';
import { UnitOfWork } from '../platform/commands/unit-of-work.js';
import { Database } from '../platform/database/database.js';
import { Answers } from '../platform/http/answers.js';
import { NextPageLink } from '../platform/http/next-page.js';
import { notFound, RefusalError } from '../platform/refusal.js';
import { loadById, loadList } from './load.queries.js';
import { OpenLoadHandler } from './open-load/open-load.handler.js';
import { RowQueries } from './row.queries.js';
import { SaveRowHandler } from './save-row/save-row.handler.js';
import { StrikeRowHandler } from './strike-row/strike-row.handler.js';

@Controller('loads')
export class GoodsInController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly rows: RowQueries,
    private readonly openLoad: OpenLoadHandler,
    private readonly saveRow: SaveRowHandler,
    private readonly strikeRow: StrikeRowHandler,
  ) {}

  @Get()
  @Allow(everyone)
  @Answers(LoadList)
  @UseInterceptors(NextPageLink)
  loads(@Query({ schema: LoadQuery }) query: z.infer<typeof LoadQuery>): Promise<z.infer<typeof LoadList>> {
    return loadList(this.database, query.limit, query.cursor);
  }

  @Post()
  @Allow(keepers)
  @Answers(LoadBrief)
  @HttpCode(200)
  open(@Issued() command: Command, @Body({ schema: OpenLoad }) body: z.infer<typeof OpenLoad>): Promise<LoadBrief> {
    return this.unitOfWork.run(command, (transaction) => this.openLoad.handle(transaction, body));
  }

  @Get(':id')
  @Allow(everyone)
  @Answers(LoadPage)
  async load(@Param({ schema: IdParam }) param: z.infer<typeof IdParam>): Promise<LoadPage> {
    const load = await loadById(this.database, param.id);
    if (load === null) throw new RefusalError(notFound('That load'));
    return { ...load, rows: await this.rows.ofLoad(this.database, param.id) };
  }

  /** A new row comes without If-Match and with an id that the client made; a row that is put right comes with the version that was seen. */
  @Put(':id/rows/:rowId')
  @Allow(keepers)
  @Answers(LoadRow)
  @HttpCode(200)
  save(
    @Issued() command: Command,
    @Param({ schema: RowParam }) param: z.infer<typeof RowParam>,
    @Body({ schema: RowInput }) body: z.infer<typeof RowInput>,
  ): Promise<LoadRow> {
    return this.unitOfWork.run(command, (transaction) => this.saveRow.handle(transaction, param.id, param.rowId, body));
  }

  @Post(':id/rows/:rowId/strike')
  @Allow(keepers)
  @Answers(LoadRow)
  @HttpCode(200)
  strike(
    @Issued() command: Command,
    @Param({ schema: RowParam }) param: z.infer<typeof RowParam>,
    @Body({ schema: StrikeRow }) body: z.infer<typeof StrikeRow>,
  ): Promise<LoadRow> {
    return this.unitOfWork.run(command, (transaction) => this.strikeRow.handle(transaction, param.id, param.rowId, body.reason));
  }
}
