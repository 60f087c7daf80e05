import { Global, Module, type OnModuleInit } from '@nestjs/common';
import { HistoryRegistry } from '../stores/history/history-registry.js';
import { PictureSubjects } from '../stores/pictures/picture-subjects.js';
import { AcceptanceController } from './acceptance/acceptance.controller.js';
import { DecideAcceptanceHandler } from './acceptance/decide-acceptance/decide-acceptance.handler.js';
import { FillInHandler } from './acceptance/fill-in/fill-in.handler.js';
import { CoreAgesController } from './ageing/core-ages.controller.js';
import { CoreAgeing } from './ageing/core-ages.js';
import { ReviewCoreHandler } from './ageing/review-core.handler.js';
import { BeginStripDownHandler } from './begin-strip-down/begin-strip-down.handler.js';
import { gradeHistory, stripHistory } from './core-history.js';
import { CoresController } from './cores.controller.js';
import { FindingWordsController } from './finding-words/finding-words.controller.js';
import { FinishStripDownHandler } from './finish-strip-down/finish-strip-down.handler.js';
import { GiveUsualFateHandler } from './give-usual-fate/give-usual-fate.handler.js';
import { JobOfUnitRegister } from './job-of-unit.js';
import { findingsPhotographed } from './picture-of-finding.js';
import { CarryOut } from './record-finding/carry-out.js';
import { RecordFindingHandler } from './record-finding/record-finding.handler.js';
import { ReplaceCasingHandler } from './replace-casing/replace-casing.handler.js';
import { StripDownPage } from './strip-down-page.js';
import { TypeComponentsController } from './type-components/type-components.controller.js';
import { YieldAnswer } from './yields/yield-answer.js';
import { YieldsController } from './yields/yields.controller.js';

/** Cores and what comes out of them; jobs register here what a strip-down tells them. */
@Global()
@Module({
  controllers: [
    AcceptanceController,
    CoreAgesController,
    CoresController,
    FindingWordsController,
    TypeComponentsController,
    YieldsController,
  ],
  providers: [
    BeginStripDownHandler,
    CarryOut,
    CoreAgeing,
    DecideAcceptanceHandler,
    FillInHandler,
    FinishStripDownHandler,
    GiveUsualFateHandler,
    JobOfUnitRegister,
    RecordFindingHandler,
    ReplaceCasingHandler,
    ReviewCoreHandler,
    StripDownPage,
    YieldAnswer,
  ],
  exports: [CoreAgeing, JobOfUnitRegister],
})
export class CoresModule implements OnModuleInit {
  constructor(
    private readonly pictures: PictureSubjects,
    private readonly history: HistoryRegistry,
  ) {}

  onModuleInit(): void {
    this.history.register(stripHistory, gradeHistory);
    this.pictures.register(findingsPhotographed);
  }
}
