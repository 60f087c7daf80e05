import { Module } from '@nestjs/common';
import { CoverageModule } from '../coverage/coverage.module.js';
import { CalendarController } from './calendar.controller.js';
import { CalendarHandler } from './calendar.handler.js';
import { JobCardController } from './job-card.controller.js';
import { JobCards } from './job-card.service.js';
import { WhatIfController } from './what-if/what-if.controller.js';
import { WhatIfAnswer } from './what-if/what-if.service.js';

@Module({
  imports: [CoverageModule],
  controllers: [CalendarController, JobCardController, WhatIfController],
  providers: [CalendarHandler, JobCards, WhatIfAnswer],
})
export class PlanningModule {}
