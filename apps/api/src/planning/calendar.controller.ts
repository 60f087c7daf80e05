import { Empty } from '@corewright/contracts/base';
import { CloseDay, DayParam, SetWeek, WorkingCalendar } from '@corewright/contracts/planning';
import { Body, Controller, Get, HttpCode, Param, Post, Put } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, keepers } from '../platform/access/signed-in.js';
import { type Command, Issued } from '../platform/commands/command.js';
import { UnitOfWork } from '../platform/commands/unit-of-work.js';
import { Database } from '../platform/database/database.js';
import { Answers } from '../platform/http/answers.js';
import { CalendarHandler } from './calendar.handler.js';
import { readCalendar } from './calendar.queries.js';

type Calendar = z.infer<typeof WorkingCalendar>;

@Controller('calendar')
export class CalendarController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly handler: CalendarHandler,
  ) {}

  @Get()
  @Allow(everyone)
  @Answers(WorkingCalendar)
  calendar(): Promise<Calendar> {
    return readCalendar(this.database);
  }

  @Put('week')
  @Allow(keepers)
  @Answers(WorkingCalendar)
  setWeek(@Issued() command: Command, @Body({ schema: SetWeek }) body: z.infer<typeof SetWeek>): Promise<Calendar> {
    return this.unitOfWork.run(command, (transaction) => this.handler.setWeek(transaction, body.weekMinutes));
  }

  @Post('closed-days')
  @Allow(keepers)
  @Answers(WorkingCalendar)
  @HttpCode(200)
  closeDay(@Issued() command: Command, @Body({ schema: CloseDay }) body: z.infer<typeof CloseDay>): Promise<Calendar> {
    return this.unitOfWork.run(command, (transaction) => this.handler.closeDay(transaction, body));
  }

  @Post('closed-days/:day/open')
  @Allow(keepers)
  @Answers(WorkingCalendar)
  @HttpCode(200)
  openDay(
    @Issued() command: Command,
    @Param({ schema: DayParam }) { day }: z.infer<typeof DayParam>,
    @Body({ schema: Empty }) _body: z.infer<typeof Empty>,
  ): Promise<Calendar> {
    return this.unitOfWork.run(command, (transaction) => this.handler.openDay(transaction, day));
  }
}
