import { Global, Module, type OnModuleInit } from '@nestjs/common';
import { WorkshopClock } from '../people/workshop.js';
import { HistoryRegistry } from '../stores/history/history-registry.js';
import { LoadNames } from '../stores/later-names.js';
import { SetCodesAsideHandler } from './blanks/set-codes-aside.handler.js';
import { ChangeLabels } from './change-labels/change-labels.handlers.js';
import { LabelChangesController } from './change-labels/label-changes.controller.js';
import { CommandCodes } from './command-codes.js';
import { EditPrinterHandler } from './edit-printer/edit-printer.handler.js';
import { LabelRegister } from './label-register.js';
import { LabelRuns } from './label-run.service.js';
import { LabelTexts } from './label-text.js';
import { LabelsController } from './labels.controller.js';
import { badgeLabels, commandLabels, placeLabels } from './other-labels.js';
import { labelHistory } from './print-history.js';
import { StartRunHandler } from './start-run/start-run.handler.js';
import { thingLabels } from './thing-labels.js';

/** Labels for everything that bears a code. An area whose codes come later registers what stands on them. */
@Global()
@Module({
  controllers: [LabelsController, LabelChangesController],
  providers: [
    ChangeLabels,
    CommandCodes,
    EditPrinterHandler,
    LabelRegister,
    LabelRuns,
    LabelTexts,
    SetCodesAsideHandler,
    StartRunHandler,
  ],
  exports: [LabelRegister, StartRunHandler],
})
export class LabelsModule implements OnModuleInit {
  constructor(
    private readonly register: LabelRegister,
    private readonly history: HistoryRegistry,
    private readonly clock: WorkshopClock,
    private readonly loads: LoadNames,
  ) {}

  onModuleInit(): void {
    this.history.register(labelHistory);
    this.register.register(['U', 'L', 'C', 'X'], async (reader, codes) =>
      thingLabels(reader, codes, await this.clock.today(reader), this.loads),
    );
    this.register.register(['P'], placeLabels);
    this.register.register(['B'], badgeLabels);
    this.register.register(['K'], commandLabels);
  }
}
