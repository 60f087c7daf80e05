import { Module } from '@nestjs/common';
import { CoverageModule } from '../coverage/coverage.module.js';
import { CalendarController } from './calendar.controller.js';
import { CalendarHandler } from './calendar.handler.js';
import { JobCardController } from './job-card.controller.js';
import { JobCards } from './job-card.service.js';

@Module({
  imports: [CoverageModule],
  controllers: [CalendarController, JobCardController],
  providers: [CalendarHandler, JobCards],
  exports: [JobCards],
})
export class PlanningModule {}
