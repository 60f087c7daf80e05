import { Module, type OnModuleInit } from '@nestjs/common';
import { HistoryRegistry } from '../stores/history/history-registry.js';
import { CoverLook } from './cover-look.js';
import { CoverWatch } from './cover-watch.js';
import { SettleWarningHandler } from './settle-warning/settle-warning.handler.js';
import { warningHistory } from './warning-history.js';
import { WarningsController } from './warnings.controller.js';

@Module({
  controllers: [WarningsController],
  providers: [CoverLook, CoverWatch, SettleWarningHandler],
  exports: [CoverWatch],
})
export class WarningsModule implements OnModuleInit {
  constructor(private readonly history: HistoryRegistry) {}

  onModuleInit(): void {
    this.history.register(warningHistory);
  }
}
