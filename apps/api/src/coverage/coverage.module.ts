import { Module } from '@nestjs/common';
import { IntegerPrograms } from '../platform/solver/integer-programs.js';
import { CoreWorthsController } from './break-for-spares/core-worths.controller.js';
import { CoreWorthsAnswer } from './break-for-spares/core-worths.js';
import { BuildableController } from './buildable/buildable.controller.js';
import { BuildableAnswer } from './buildable/buildable.service.js';
import { ByPartController } from './by-part/by-part.controller.js';
import { PickListController } from './pick-list/pick-list.controller.js';
import { PickLists } from './pick-list/pick-list.service.js';
import { ToReserveController } from './to-reserve/to-reserve.controller.js';
import { UnKitController } from './un-kit/un-kit.controller.js';
import { UnKitHandler } from './un-kit/un-kit.handler.js';
import { UndoUnKitHandler } from './un-kit/undo-un-kit.handler.js';
import { WorkshopCover } from './workshop-cover.js';

@Module({
  controllers: [
    ToReserveController,
    BuildableController,
    ByPartController,
    PickListController,
    CoreWorthsController,
    UnKitController,
  ],
  providers: [BuildableAnswer, CoreWorthsAnswer, IntegerPrograms, PickLists, UndoUnKitHandler, UnKitHandler, WorkshopCover],
  exports: [WorkshopCover],
})
export class CoverageModule {}
