import { Global, Module, type OnModuleInit } from '@nestjs/common';
import { AddFirmHandler } from './add-firm/add-firm.handler.js';
import { AddPlaceHandler } from './add-place/add-place.handler.js';
import { ArrangePlacesController } from './arrange-places/arrange-places.controller.js';
import { CarryPlaceHandler, ClosePlaceHandler, EditPlaceHandler } from './arrange-places/arrange-places.handlers.js';
import { AsOfController } from './as-of/as-of.controller.js';
import { StockAsOf } from './as-of/stock-as-of.js';
import { AskAroundController } from './ask-around/ask-around.controller.js';
import { RecordAnswerHandler } from './ask-around/record-answer.handler.js';
import { CallItController } from './call-it-that/call-it.controller.js';
import { CallItHandler } from './call-it-that/call-it.handler.js';
import { ChangeHoldHandler } from './change-hold/change-hold.handler.js';
import { ChangeOwnerHandler } from './change-owner/change-owner.handler.js';
import { CondemnHandler } from './condemn/condemn.handler.js';
import { DisposeOfHandler } from './condemn/dispose-of.handler.js';
import { PassOnController } from './costs/pass-on/pass-on.controller.js';
import { KeepPartWorthHandler, PassOnHandler } from './costs/pass-on/pass-on.handlers.js';
import { PassOn } from './costs/pass-on/pass-on.js';
import { PassedOnStates } from './costs/pass-on/passed-on-state.js';
import { ThingCosts } from './costs/thing-cost.js';
import { GoodsApartController } from './goods-apart/goods-apart.controller.js';
import { GoodsNotOurs } from './goods-apart/not-ours.js';
import { HistoryController } from './history/history.controller.js';
import { History } from './history/history.js';
import { HistoryRegistry } from './history/history-registry.js';
import { StoresHistory } from './history/stores-history.js';
import { IdentifyController } from './identify-unit/identify.controller.js';
import { IdentifyUnitHandler } from './identify-unit/identify-unit.handler.js';
import { InspectLotHandler } from './inspect-lot/inspect-lot.handler.js';
import { AddFoundPropertyHandler } from './kept-for-owners/add-found-property.handler.js';
import { EndKeptHandler } from './kept-for-owners/end-kept.handler.js';
import { KeepForOwnerHandler } from './kept-for-owners/keep-for-owner.handler.js';
import { KeptForOwnersController } from './kept-for-owners/kept.controller.js';
import { KeptSetHandler } from './kept-sets/bind-set.handler.js';
import { KeptSetsController } from './kept-sets/kept-sets.controller.js';
import { KnownByController } from './known-by/known-by.controller.js';
import { signsPhotographed } from './known-by/picture-of-sign.js';
import { ClaimantNames, CostGaps, LoadNames, UnitJobs } from './later-names.js';
import { MoveContentsHandler } from './move-contents/move-contents.handler.js';
import { FoundHereHandler } from './not-there/found-here.handler.js';
import { MarkNotThereHandler } from './not-there/mark-not-there.handler.js';
import { NotThereController } from './not-there/not-there.controller.js';
import { PostAwayHandler } from './not-there/post-away.handler.js';
import { ChangePictureHandler } from './pictures/change-picture.handler.js';
import { Darkroom } from './pictures/developing/darkroom.js';
import { KeepPictureHandler } from './pictures/keep-picture.handler.js';
import { PhotographFolder } from './pictures/photograph-folder.js';
import { PhotographKeeper } from './pictures/photograph-keeper.js';
import { PictureSubjects } from './pictures/picture-subjects.js';
import { PicturesController } from './pictures/pictures.controller.js';
import { Reception } from './pictures/reception.js';
import { UnfinishedUploads } from './pictures/unfinished-uploads.js';
import { UploadsController } from './pictures/uploads.controller.js';
import { PlacesController } from './places.controller.js';
import { PreserveLotHandler } from './preserve-lot/preserve-lot.handler.js';
import { PutAwayController } from './put-away/put-away.controller.js';
import { PutAwayHandler } from './put-away/put-away.handler.js';
import { MergeLotHandler } from './regroup/merge-lot.handler.js';
import { PutLotRightHandler } from './regroup/put-lot-right.handler.js';
import { RegroupController } from './regroup/regroup.controller.js';
import { SplitLotHandler } from './regroup/split-lot.handler.js';
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
    UploadsController,
    PutAwayController,
    ShelfLifeController,
    KeptSetsController,
    KnownByController,
    IdentifyController,
    AskAroundController,
    PassOnController,
    NotThereController,
    RegroupController,
    GoodsApartController,
    KeptForOwnersController,
    AsOfController,
    CallItController,
    HistoryController,
    ArrangePlacesController,
  ],
  providers: [
    AddFirmHandler,
    AddFoundPropertyHandler,
    AddPlaceHandler,
    CarryPlaceHandler,
    CallItHandler,
    ChangeHoldHandler,
    ChangeOwnerHandler,
    ChangePictureHandler,
    ClaimantNames,
    CondemnHandler,
    CostGaps,
    Darkroom,
    DisposeOfHandler,
    EndKeptHandler,
    ClosePlaceHandler,
    EditPlaceHandler,
    FoundHereHandler,
    GoodsNotOurs,
    History,
    HistoryRegistry,
    IdentifyUnitHandler,
    InspectLotHandler,
    KeepForOwnerHandler,
    KeepPartWorthHandler,
    KeepPictureHandler,
    KeptSetHandler,
    LoadNames,
    MarkNotThereHandler,
    MergeLotHandler,
    MoveContentsHandler,
    PassedOnStates,
    PassOn,
    PassOnHandler,
    PhotographFolder,
    PhotographKeeper,
    PictureSubjects,
    PostAwayHandler,
    PreserveLotHandler,
    PutAwayHandler,
    PutLotRightHandler,
    Reception,
    RecordAnswerHandler,
    Search,
    SearchRegistry,
    SettleFlagHandler,
    ShelfLives,
    SplitLotHandler,
    StockAsOf,
    StockQueries,
    StoresScanOpeners,
    StoresHistory,
    StoresSources,
    TakeOffHandler,
    ThingCosts,
    ThingPage,
    UnfinishedUploads,
    UnitJobs,
  ],
  exports: [
    AddPlaceHandler,
    ChangeHoldHandler,
    ChangePictureHandler,
    ClaimantNames,
    CostGaps,
    HistoryRegistry,
    KeepPictureHandler,
    LoadNames,
    MarkNotThereHandler,
    PassOn,
    PhotographFolder,
    PictureSubjects,
    Reception,
    SearchRegistry,
    ShelfLives,
    ThingPage,
    UnitJobs,
  ],
})
export class StoresModule implements OnModuleInit {
  constructor(private readonly pictures: PictureSubjects) {}

  onModuleInit(): void {
    this.pictures.register(signsPhotographed);
  }
}
