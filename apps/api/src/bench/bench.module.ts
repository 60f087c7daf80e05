import { Module } from '@nestjs/common';
import { BenchController } from './bench.controller.js';
import { JobScanHandler } from './job-scan.handler.js';
import { UsesAtBench } from './uses-at-bench.js';

@Module({ controllers: [BenchController], providers: [JobScanHandler, UsesAtBench], exports: [JobScanHandler, UsesAtBench] })
export class BenchModule {}
