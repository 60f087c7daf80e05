import { Module } from '@nestjs/common';
import { BenchController } from './bench.controller.js';
import { JobScanHandler } from './job-scan.handler.js';

@Module({ controllers: [BenchController], providers: [JobScanHandler], exports: [JobScanHandler] })
export class BenchModule {}
