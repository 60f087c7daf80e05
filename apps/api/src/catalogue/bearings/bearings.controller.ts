import {
  BearingRead,
  BearingsCompared,
  BearingsMeasured,
  CompareBearingsQuery,
  MeasuredBearingQuery,
  ReadBearingQuery,
} from '@corewright/contracts/bearings';
import { Controller, Get, Query } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone } from '../../platform/access/signed-in.js';
import { Answers } from '../../platform/http/answers.js';
import { BearingDesk } from './bearing-desk.js';

@Controller('bearings')
@Allow(everyone)
export class BearingsController {
  constructor(private readonly desk: BearingDesk) {}

  @Get('read')
  @Answers(BearingRead)
  read(@Query({ schema: ReadBearingQuery }) query: z.infer<typeof ReadBearingQuery>): Promise<BearingRead> {
    return this.desk.read(query.designation, query);
  }

  @Get('measured')
  @Answers(BearingsMeasured)
  measured(@Query({ schema: MeasuredBearingQuery }) query: z.infer<typeof MeasuredBearingQuery>): Promise<BearingsMeasured> {
    return this.desk.measured(query);
  }

  @Get('compare')
  @Answers(BearingsCompared)
  compare(@Query({ schema: CompareBearingsQuery }) query: z.infer<typeof CompareBearingsQuery>): Promise<BearingsCompared> {
    return this.desk.compare(query.a, query.b);
  }
}
