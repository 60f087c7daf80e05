import { Module, type OnModuleInit } from '@nestjs/common';
import { LabelRegister } from '../labels/label-register.js';
import { LoadNames } from '../stores/later-names.js';
import { GoodsInController } from './goods-in.controller.js';
import { codesOfLoad, loadsOfThings } from './load.queries.js';
import { OpenLoadHandler } from './open-load/open-load.handler.js';
import { RowQueries } from './row.queries.js';
import { SaveRowHandler } from './save-row/save-row.handler.js';
import { StrikeRowHandler } from './strike-row/strike-row.handler.js';

/** What came off the van: loads and their rows. */
@Module({ controllers: [GoodsInController], providers: [OpenLoadHandler, RowQueries, SaveRowHandler, StrikeRowHandler] })
export class GoodsInModule implements OnModuleInit {
  constructor(
    private readonly loadNames: LoadNames,
    private readonly labels: LabelRegister,
  ) {}

  onModuleInit(): void {
    this.loadNames.register(loadsOfThings);
    this.labels.registerLoads(codesOfLoad);
  }
}
