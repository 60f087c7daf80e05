import { Global, Module } from '@nestjs/common';
import { CatalogueController } from './catalogue.controller.js';
import { PartStock } from './part-stock.js';

/** Parts, their numbers, unit types, grades. Later areas tell it what stock there is and what is coming. */
@Global()
@Module({ controllers: [CatalogueController], providers: [PartStock], exports: [PartStock] })
export class CatalogueModule {}
