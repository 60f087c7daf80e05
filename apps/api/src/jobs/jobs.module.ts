import { Module, type OnModuleInit } from '@nestjs/common';
import { JobOfUnitRegister } from '../cores/job-of-unit.js';
import { LabelRegister } from '../labels/label-register.js';
import { ScanRegistry } from '../scanning/scan-registry.js';
import { HistoryRegistry } from '../stores/history/history-registry.js';
import { ClaimantNames, UnitJobs } from '../stores/later-names.js';
import { SearchRegistry } from '../stores/search/search-registry.js';
import { StoresModule } from '../stores/stores.module.js';
import { AcceptSubstituteHandler } from './accept-substitute/accept-substitute.handler.js';
import { SubstitutesController } from './accept-substitute/substitutes.controller.js';
import { fittingHistory } from './fitting-history.js';
import { jobNames, openJobCard, openJobsOn } from './job.queries.js';
import { jobLabels } from './job-labels.js';
import { JobsController } from './jobs.controller.js';
import { OpenJobHandler } from './open-job/open-job.handler.js';
import { searchJobs } from './search-jobs.js';
import { strippedParts } from './stripped-parts.js';

@Module({
  imports: [StoresModule],
  controllers: [JobsController, SubstitutesController],
  providers: [AcceptSubstituteHandler, OpenJobHandler],
  exports: [OpenJobHandler],
})
export class JobsModule implements OnModuleInit {
  constructor(
    private readonly scans: ScanRegistry,
    private readonly claimants: ClaimantNames,
    private readonly unitJobs: UnitJobs,
    private readonly searches: SearchRegistry,
    private readonly labels: LabelRegister,
    private readonly stripDowns: JobOfUnitRegister,
    private readonly history: HistoryRegistry,
  ) {}

  onModuleInit(): void {
    this.scans.register('J', openJobCard);
    this.claimants.register(jobNames);
    this.unitJobs.register(openJobsOn);
    this.searches.register(searchJobs);
    this.labels.register(['J'], jobLabels);
    this.stripDowns.register(strippedParts);
    this.history.register(fittingHistory);
  }
}
