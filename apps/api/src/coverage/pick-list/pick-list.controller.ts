import { IdParam } from '@corewright/contracts/base';
import { PickList, PickListQuery, TrayKit } from '@corewright/contracts/pick-list';
import { Controller, Get, Param, Query } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone } from '../../platform/access/signed-in.js';
import { Answers } from '../../platform/http/answers.js';
import { PickLists } from './pick-list.service.js';

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
}
