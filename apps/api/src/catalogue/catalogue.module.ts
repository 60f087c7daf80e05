import { Global, Module } from '@nestjs/common';
import { BearingDesk } from './bearings/bearing-desk.js';
import { BearingsController } from './bearings/bearings.controller.js';
import { ShippedBearings } from './bearings/shipped-bearings.js';
import { BearingTablesController } from './bearings/tables/bearing-tables.controller.js';
import { BearingTablesAnswer } from './bearings/tables/bearing-tables.js';
import { EditTablesHandler } from './bearings/tables/edit-tables.handler.js';
import { BuildStandardsController } from './build-standards/build-standards.controller.js';
import { EditBuildStandardHandler } from './build-standards/edit-build-standard.handler.js';
import { CatalogueController } from './catalogue.controller.js';
import { EditPartController } from './edit-part/edit-part.controller.js';
import { EditPartHandler } from './edit-part/edit-part.handler.js';
import { EditGradeHandler } from './grades/edit-grade.handler.js';
import { GradesController } from './grades/grades.controller.js';
import { PartStock } from './part-stock.js';
import { MayServeAnswer } from './relations/may-serve.js';
import { RecordRelationHandler } from './relations/record-relation.handler.js';
import { RelationsController } from './relations/relations.controller.js';
import { WithdrawRelationHandler } from './relations/withdraw-relation.handler.js';
import { PartSearch } from './search/part-search.js';

/** Parts, their numbers, how they stand to one another, unit types, grades, bearings. Later areas tell it what stock there is and what is coming. */
@Global()
@Module({
  controllers: [
    CatalogueController,
    BearingsController,
    BearingTablesController,
    BuildStandardsController,
    EditPartController,
    GradesController,
    RelationsController,
  ],
  providers: [
    BearingDesk,
    BearingTablesAnswer,
    EditBuildStandardHandler,
    EditGradeHandler,
    EditPartHandler,
    EditTablesHandler,
    MayServeAnswer,
    PartSearch,
    PartStock,
    RecordRelationHandler,
    ShippedBearings,
    WithdrawRelationHandler,
  ],
  exports: [PartSearch, PartStock, RecordRelationHandler],
})
export class CatalogueModule {}
