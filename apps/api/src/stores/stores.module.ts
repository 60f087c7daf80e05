import { Global, Module } from '@nestjs/common';
import { AddFirmHandler } from './add-firm/add-firm.handler.js';
import { AddPlaceHandler } from './add-place/add-place.handler.js';
import { ChangeHoldHandler } from './change-hold/change-hold.handler.js';
import { IdentifyController } from './identify-unit/identify.controller.js';
import { IdentifyUnitHandler } from './identify-unit/identify-unit.handler.js';
import { InspectLotHandler } from './inspect-lot/inspect-lot.handler.js';
import { ClaimantNames, LoadNames, UnitJobs } from './later-names.js';
import { KeepPictureHandler } from './pictures/keep-picture.handler.js';
import { PicturesController } from './pictures/pictures.controller.js';
import { PlacesController } from './places.controller.js';
import { PreserveLotHandler } from './preserve-lot/preserve-lot.handler.js';
import { PutAwayController } from './put-away/put-away.controller.js';
import { PutAwayHandler } from './put-away/put-away.handler.js';
import { StoresScanOpeners } from './scan-openers.js';
import { SearchController } from './search/search.controller.js';
import { Search } from './search/search.js';
import { SearchRegistry } from './search/search-registry.js';
import { StoresSources } from './search/stores-sources.js';
import { SettleFlagHandler } from './settle-flag/settle-flag.handler.js';
import { ShelfLifeController } from './shelf-life/shelf-life.controller.js';
import { ShelfLives } from './shelf-life/shelf-life.js';
import { StockQueries } from './stock.queries.js';
import { TakeOffHandler } from './take-off/take-off.handler.js';
import { ThingPage } from './thing-page.js';
import { ThingsController } from './things.controller.js';

/** Things, places, movements and claims; what later areas call the ids that stand in them, they register here. */
@Global()
@Module({
  controllers: [
    ThingsController,
    PlacesController,
    SearchController,
    PicturesController,
    PutAwayController,
    ShelfLifeController,
    IdentifyController,
  ],
  providers: [
    AddFirmHandler,
    AddPlaceHandler,
    ChangeHoldHandler,
    ClaimantNames,
    IdentifyUnitHandler,
    InspectLotHandler,
    KeepPictureHandler,
    LoadNames,
    PreserveLotHandler,
    PutAwayHandler,
    Search,
    SearchRegistry,
    SettleFlagHandler,
    ShelfLives,
    StockQueries,
    StoresScanOpeners,
    StoresSources,
    TakeOffHandler,
    ThingPage,
    UnitJobs,
  ],
  exports: [ClaimantNames, LoadNames, SearchRegistry, ShelfLives, ThingPage, UnitJobs],
})
export class StoresModule {}
