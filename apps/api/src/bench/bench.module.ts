import { Module } from '@nestjs/common';
import { PeopleModule } from '../people/people.module.js';
import { BenchController } from './bench.controller.js';
import { JobScanHandler } from './job-scan.handler.js';

@Module({ imports: [PeopleModule], controllers: [BenchController], providers: [JobScanHandler], exports: [JobScanHandler] })
export class BenchModule {}
