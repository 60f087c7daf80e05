import { IdParam } from '@corewright/contracts/base';
import { PickList, PickListQuery, TrayKit, TrayLabelQuery } from '@corewright/contracts/pick-list';
import { Controller, Get, Header, Param, Query, StreamableFile } from '@nestjs/common';
import { ApiOkResponse } from '@nestjs/swagger';
import type * as z from 'zod';
import { Allow, everyone } from '../../platform/access/signed-in.js';
import { Answers } from '../../platform/http/answers.js';
import { PickLists } from './pick-list.service.js';
import { trayLabelPdf } from './tray-label.js';

const pdfAnswer = { content: { 'application/pdf': { schema: { type: 'string', format: 'binary' } } } } as const;

@Controller()
export class PickListController {
  constructor(private readonly lists: PickLists) {}

  /** What to fetch from stores for open jobs, place after place in walking order. */
  @Get('pick-list')
  @Allow(everyone)
  @Answers(PickList)
  list(@Query({ schema: PickListQuery }) query: PickListQuery): Promise<PickList> {
    return this.lists.of(query.jobs);
  }

  /** What is still missing from a job's kit tray. */
  @Get('trays/:id/kit')
  @Allow(everyone)
  @Answers(TrayKit)
  ofTray(@Param({ schema: IdParam }) param: z.infer<typeof IdParam>): Promise<TrayKit> {
    return this.lists.ofTray(param.id);
  }

  /** A label for the tray that says what is missing from it at this moment. */
  @Get('trays/:id/missing-label.pdf')
  @Allow(everyone)
  @ApiOkResponse(pdfAnswer)
  @Header('cache-control', 'private, no-store')
  async label(
    @Param({ schema: IdParam }) param: z.infer<typeof IdParam>,
    @Query({ schema: TrayLabelQuery }) query: z.infer<typeof TrayLabelQuery>,
  ): Promise<StreamableFile> {
    const pdf = await trayLabelPdf(await this.lists.trayLabel(param.id), query.stock, query.dotsPerInch);
    return new StreamableFile(pdf, { type: 'application/pdf', disposition: 'inline; filename="tray.pdf"', length: pdf.length });
  }
}
