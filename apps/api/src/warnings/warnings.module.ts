import { Module } from '@nestjs/common';
import { CoverLook } from './cover-look.js';
import { CoverWatch } from './cover-watch.js';
import { SettleWarningHandler } from './settle-warning/settle-warning.handler.js';
import { WarningsController } from './warnings.controller.js';

@Module({
  controllers: [WarningsController],
  providers: [CoverLook, CoverWatch, SettleWarningHandler],
  exports: [CoverWatch],
})
export class WarningsModule {}
