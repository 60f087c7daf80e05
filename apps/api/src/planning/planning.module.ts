import { Module } from '@nestjs/common';
import { CalendarController } from './calendar.controller.js';
import { CalendarHandler } from './calendar.handler.js';

@Module({ controllers: [CalendarController], providers: [CalendarHandler] })
export class PlanningModule {}
