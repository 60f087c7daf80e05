import { Ground1764061200001 } from './0001-ground.js';
import { Catalogue1764061200002 } from './0002-catalogue.js';
import { Ledger1764061200003 } from './0003-ledger.js';
import { Records1764061200004 } from './0004-records.js';
import { Stores1764061200005 } from './0005-stores.js';
import { FittedOnceStays1764061200006 } from './0006-fitted-once-stays.js';
import { Relations1764061200007 } from './0007-relations.js';
import { Bearings1764061200008 } from './0008-bearings.js';
import { Substitutes1764061200009 } from './0009-substitutes.js';
import { Numbers1764061200010 } from './0010-numbers.js';
import { Imports1764061200011 } from './0011-imports.js';
import { Storage1764061200012 } from './0012-storage.js';
import { BearingFronts1764061200013 } from './0013-bearing-fronts.js';
import { QuickAnswers1764061200014 } from './0014-quick-answers.js';
import { LoadCosts1764061200015 } from './0015-load-costs.js';
import { Photographs1764061200016 } from './0016-photographs.js';
import { StripDowns1764061200017 } from './0017-strip-downs.js';
import { BlankCodes1764061200018 } from './0018-blank-codes.js';
import { KnownBy1764061200019 } from './0019-known-by.js';
import { Acceptance1764061200020 } from './0020-acceptance.js';
import { BoxesAndPassedOn1764061200021 } from './0021-boxes-and-passed-on.js';
import { Yields1764061200022 } from './0022-yields.js';
import { YieldsBySeller1764061200023 } from './0023-yields-by-seller.js';
import { Reservations1764061200024 } from './0024-reservations.js';
import { Warnings1764061200025 } from './0025-warnings.js';
import { Counting1764061200026 } from './0026-counting.js';
import { LabelChanges1764061200027 } from './0027-label-changes.js';
import { PlacesArranged1764061200028 } from './0028-places-arranged.js';
import { History1764061200029 } from './0029-history.js';
import { OpeningStock1764061200030 } from './0030-opening-stock.js';
import { SalesAndUnKits1764061200031 } from './0031-sales-and-un-kits.js';
import { Consumables1764061200032 } from './0032-consumables.js';
import { GoodsApart1764061200033 } from './0033-goods-apart.js';
import { HistoryOfPlaces1764061200034 } from './0034-history-of-places.js';
import { BalancesWithUs1764061200035 } from './0035-balances-with-us.js';
import { SecondLooksAndDoubts1764061200036 } from './0036-second-looks-and-doubts.js';
import { WordsOfTypes1764061200037 } from './0037-words-of-types.js';
import { Crossings1764061200038 } from './0038-crossings.js';

/** Every migration in the order in which it runs. Append only: a migration that has landed is never edited. */
export const migrations = [
  Ground1764061200001,
  Catalogue1764061200002,
  Ledger1764061200003,
  Records1764061200004,
  Stores1764061200005,
  FittedOnceStays1764061200006,
  Relations1764061200007,
  Bearings1764061200008,
  Substitutes1764061200009,
  Numbers1764061200010,
  Imports1764061200011,
  Storage1764061200012,
  BearingFronts1764061200013,
  QuickAnswers1764061200014,
  LoadCosts1764061200015,
  Photographs1764061200016,
  StripDowns1764061200017,
  BlankCodes1764061200018,
  KnownBy1764061200019,
  Acceptance1764061200020,
  BoxesAndPassedOn1764061200021,
  Yields1764061200022,
  YieldsBySeller1764061200023,
  Reservations1764061200024,
  Warnings1764061200025,
  Counting1764061200026,
  LabelChanges1764061200027,
  PlacesArranged1764061200028,
  History1764061200029,
  OpeningStock1764061200030,
  SalesAndUnKits1764061200031,
  Consumables1764061200032,
  GoodsApart1764061200033,
  HistoryOfPlaces1764061200034,
  BalancesWithUs1764061200035,
  SecondLooksAndDoubts1764061200036,
  WordsOfTypes1764061200037,
  Crossings1764061200038,
];
