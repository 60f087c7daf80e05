import { Readable } from 'node:stream';
import { AsOfPage, AsOfPageQuery, AsOfQuery, AsOfTotals } from '@corewright/contracts/stock-as-of';
import { Controller, Get, Header, Query, StreamableFile, UseInterceptors } from '@nestjs/common';
import { ApiOkResponse } from '@nestjs/swagger';
import type * as z from 'zod';
import { Allow, everyone } from '../../platform/access/signed-in.js';
import { Answers } from '../../platform/http/answers.js';
import { NextPageLink } from '../../platform/http/next-page.js';
import { StockAsOf } from './stock-as-of.js';

@Controller('stock-as-of')
export class AsOfController {
  constructor(private readonly stock: StockAsOf) {}

  @Get()
  @Allow(everyone)
  @Answers(AsOfPage)
  @UseInterceptors(NextPageLink)
  lines(@Query({ schema: AsOfPageQuery }) { cursor, ...query }: z.infer<typeof AsOfPageQuery>): Promise<AsOfPage> {
    return this.stock.page(query, cursor);
  }

  @Get('totals')
  @Allow(everyone)
  @Answers(AsOfTotals)
  totals(@Query({ schema: AsOfQuery }) query: AsOfQuery): Promise<AsOfTotals> {
    return this.stock.totals(query);
  }

  /** Every line, for a spreadsheet. */
  @Get('file')
  @Allow(everyone)
  @ApiOkResponse({ description: 'The file.', content: { 'text/csv': { schema: { type: 'string' } } } })
  @Header('cache-control', 'private, no-store')
  async file(@Query({ schema: AsOfQuery }) query: AsOfQuery): Promise<StreamableFile> {
    const name = `stock-${query.at.slice(0, 16).replace(/[^0-9T-]/g, '')}`;
    return new StreamableFile(Readable.from(await this.stock.file(query)), {
      type: 'text/csv; charset=utf-8; header=present',
      disposition: `attachment; filename="${name}.csv"`,
    });
  }
}
