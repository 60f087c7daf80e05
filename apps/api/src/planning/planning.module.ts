import { Module } from '@nestjs/common';
import { CalendarController } from './calendar.controller.js';
import { CalendarHandler } from './calendar.handler.js';
import { JobCardController } from './job-card.controller.js';
import { JobCards } from './job-card.service.js';

@Module({ controllers: [CalendarController, JobCardController], providers: [CalendarHandler, JobCards], exports: [JobCards] })
export class PlanningModule {}
