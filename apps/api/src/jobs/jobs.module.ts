import { Module, type OnModuleInit } from '@nestjs/common';
import { PeopleModule } from '../people/people.module.js';
import { ScanRegistry } from '../scanning/scan-registry.js';
import { openJobCard } from './job.queries.js';
import { JobsController } from './jobs.controller.js';
import { OpenJobHandler } from './open-job/open-job.handler.js';

@Module({ imports: [PeopleModule], controllers: [JobsController], providers: [OpenJobHandler], exports: [OpenJobHandler] })
export class JobsModule implements OnModuleInit {
  constructor(private readonly scans: ScanRegistry) {}

  onModuleInit(): void {
    this.scans.register('J', openJobCard);
  }
}
