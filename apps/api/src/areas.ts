import type { Type } from '@nestjs/common';
import { BenchModule } from './bench/bench.module.js';
import { BuyingModule } from './buying/buying.module.js';
import { CatalogueModule } from './catalogue/catalogue.module.js';
import { ConsumablesModule } from './consumables/consumables.module.js';
import { CoresModule } from './cores/cores.module.js';
import { CountingModule } from './counting/counting.module.js';
import { CoverageModule } from './coverage/coverage.module.js';
import { GoodsInModule } from './goods-in/goods-in.module.js';
import { ImportsModule } from './imports/imports.module.js';
import { JobsModule } from './jobs/jobs.module.js';
import { LabelsModule } from './labels/labels.module.js';
import { OpeningModule } from './opening/opening.module.js';
import { PeopleModule } from './people/people.module.js';
import { PlanningModule } from './planning/planning.module.js';
import { ReservationsModule } from './reservations/reservations.module.js';
import { ScanningModule } from './scanning/scanning.module.js';
import { SellingModule } from './selling/selling.module.js';
import { StoresModule } from './stores/stores.module.js';
import { TodayModule } from './today/today.module.js';
import { WarningsModule } from './warnings/warnings.module.js';

/** The areas of the server in their order: each imports only from those before it. */
export const areas: Type[] = [
  PeopleModule,
  ScanningModule,
  CatalogueModule,
  StoresModule,
  LabelsModule,
  CountingModule,
  CoresModule,
  GoodsInModule,
  BuyingModule,
  JobsModule,
  BenchModule,
  OpeningModule,
  ReservationsModule,
  ConsumablesModule,
  CoverageModule,
  PlanningModule,
  WarningsModule,
  SellingModule,
  ImportsModule,
  TodayModule,
];
