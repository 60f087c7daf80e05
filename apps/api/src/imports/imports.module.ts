import { Module } from '@nestjs/common';
import { BenchModule } from '../bench/bench.module.js';
import { AddReceiptHandler } from '../buying/add-receipt/add-receipt.handler.js';
import { KeepConsumableHandler } from '../consumables/settings/keep-consumable.handler.js';
import { ShareCostHandler } from '../goods-in/costs/share-cost.handler.js';
import { JobsModule } from '../jobs/jobs.module.js';
import { AddPersonHandler } from '../people/add-person/add-person.handler.js';
import { CalendarHandler } from '../planning/calendar.handler.js';
import { AddFirmHandler } from '../stores/add-firm/add-firm.handler.js';
import { AddPlaceHandler } from '../stores/add-place/add-place.handler.js';
import { ClosePlaceHandler } from '../stores/arrange-places/arrange-places.handlers.js';
import { StoresModule } from '../stores/stores.module.js';
import { ExportsController } from './export/exports.controller.js';
import { Handlers } from './handlers.js';
import { ImportRuns } from './import-runs.js';
import { Importer } from './importer.js';
import { ImportsController } from './imports.controller.js';
import { ArchiveController } from './photographs/archive.controller.js';
import { ArchiveIn } from './photographs/archive-in.js';

@Module({
  imports: [JobsModule, BenchModule, StoresModule],
  controllers: [ImportsController, ExportsController, ArchiveController],
  providers: [
    ArchiveIn,
    AddPersonHandler,
    AddFirmHandler,
    AddPlaceHandler,
    CalendarHandler,
    AddReceiptHandler,
    ClosePlaceHandler,
    Handlers,
    ImportRuns,
    Importer,
    KeepConsumableHandler,
    ShareCostHandler,
  ],
  exports: [Importer],
})
export class ImportsModule {}
