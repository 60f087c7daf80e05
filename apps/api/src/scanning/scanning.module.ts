import { Global, Module } from '@nestjs/common';
import { ScanController } from './scan.controller.js';
import { ScanRegistry } from './scan-registry.js';

@Global()
@Module({ controllers: [ScanController], providers: [ScanRegistry], exports: [ScanRegistry] })
export class ScanningModule {}
