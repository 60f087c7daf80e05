import { Today } from '@corewright/contracts/today';
import { Controller, Get, Module } from '@nestjs/common';
import { ConsumablesModule } from '../consumables/consumables.module.js';
import { CoverageModule } from '../coverage/coverage.module.js';
import { Allow, everyone } from '../platform/access/signed-in.js';
import { Answers } from '../platform/http/answers.js';
import { TodayService } from './today.service.js';

@Controller('today')
class TodayController {
  constructor(private readonly service: TodayService) {}

  @Get()
  @Allow(everyone)
  @Answers(Today)
  today(): Promise<Today> {
    return this.service.today();
  }
}

@Module({ imports: [ConsumablesModule, CoverageModule], controllers: [TodayController], providers: [TodayService] })
export class TodayModule {}
