import { Global, Module, type OnModuleInit } from '@nestjs/common';
import { HistoryRegistry } from '../stores/history/history-registry.js';
import { PictureSubjects } from '../stores/pictures/picture-subjects.js';
import { BeginCountHandler } from './begin-count/begin-count.handler.js';
import { ClosePlaceHandler } from './close-place/close-place.handler.js';
import { countHistory } from './count-history.js';
import { CountKeepingController } from './count-keeping.controller.js';
import { CountPages } from './count-page.js';
import { CountingController } from './counting.controller.js';
import { DecideLinesHandler } from './decide/decide-lines.handler.js';
import { TakeDecisionBackHandler } from './decide/take-back.handler.js';
import { Differences } from './differences.js';
import { EndCountHandler } from './end-count/end-count.handler.js';
import { EnterHandler } from './enter/enter.handler.js';
import { StrikeEntryHandler } from './enter/strike-entry.handler.js';
import { countFindingsPhotographed } from './find/picture-of-finding.js';
import { RecordFindingHandler } from './find/record-finding.handler.js';
import { SettleFindingHandler } from './find/settle-finding.handler.js';
import { CountSchedule } from './schedule/count-schedule.js';
import { CountsForToday } from './schedule/counts-for-today.js';
import { TakePlaceHandler } from './take-place/take-place.handler.js';

/** Counts of stores beside the work: blind for whoever counts, and posted by those who keep the books. */
@Global()
@Module({
  controllers: [CountingController, CountKeepingController],
  providers: [
    BeginCountHandler,
    ClosePlaceHandler,
    CountPages,
    CountSchedule,
    CountsForToday,
    DecideLinesHandler,
    Differences,
    EndCountHandler,
    EnterHandler,
    RecordFindingHandler,
    SettleFindingHandler,
    StrikeEntryHandler,
    TakeDecisionBackHandler,
    TakePlaceHandler,
  ],
  exports: [CountsForToday],
})
export class CountingModule implements OnModuleInit {
  constructor(
    private readonly history: HistoryRegistry,
    private readonly pictures: PictureSubjects,
  ) {}

  onModuleInit(): void {
    this.history.register(countHistory);
    this.pictures.register(countFindingsPhotographed);
  }
}
