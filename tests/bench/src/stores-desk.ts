/** What answers about stores, in this process and without HTTP, on a pool like that of the server. */
import 'reflect-metadata';
import { PartStock } from '@corewright/api/dist/catalogue/part-stock.js';
import { PartSearch } from '@corewright/api/dist/catalogue/search/part-search.js';
import { containerHistory } from '@corewright/api/dist/consumables/container-history.js';
import { gradeHistory, stripHistory } from '@corewright/api/dist/cores/core-history.js';
import { countHistory } from '@corewright/api/dist/counting/count-history.js';
import { arrivalHistory } from '@corewright/api/dist/goods-in/load-history.js';
import { fittingHistory } from '@corewright/api/dist/jobs/fitting-history.js';
import { searchJobs } from '@corewright/api/dist/jobs/search-jobs.js';
import { labelHistory } from '@corewright/api/dist/labels/print-history.js';
import { openingHistory } from '@corewright/api/dist/opening/opening-history.js';
import { WorkshopClock } from '@corewright/api/dist/people/workshop.js';
import { Database } from '@corewright/api/dist/platform/database/database.js';
import { createPool } from '@corewright/api/dist/platform/database/pool.js';
import { reservationHistory } from '@corewright/api/dist/reservations/claim-history.js';
import { sellingHistory } from '@corewright/api/dist/selling/sale-history.js';
import { StockAsOf } from '@corewright/api/dist/stores/as-of/stock-as-of.js';
import { History } from '@corewright/api/dist/stores/history/history.js';
import { HistoryRegistry } from '@corewright/api/dist/stores/history/history-registry.js';
import { StoresHistory } from '@corewright/api/dist/stores/history/stores-history.js';
import { Search } from '@corewright/api/dist/stores/search/search.js';
import { SearchRegistry } from '@corewright/api/dist/stores/search/search-registry.js';
import { StoresSources } from '@corewright/api/dist/stores/search/stores-sources.js';
import { StockQueries } from '@corewright/api/dist/stores/stock.queries.js';
import { warningHistory } from '@corewright/api/dist/warnings/warning-history.js';
import type { BenchDatabase } from './bench-cluster.js';

export interface StoresDesk {
  reader: Database;
  search: Search;
  history: History;
  asOf: StockAsOf;
  close(): Promise<void>;
}

/** The same number of connections as the server has. */
const connectionsMax = 16;

/** With every source that the areas of the server register. */
export async function openStoresDesk({ servingUrl }: BenchDatabase): Promise<StoresDesk> {
  const pool = createPool(servingUrl, { max: connectionsMax });
  const reader = new Database(pool, servingUrl);
  const stock = new PartStock();
  stock.registerStock(new StockQueries(stock, new WorkshopClock(reader, () => new Date())));
  const sources = new SearchRegistry();
  new StoresSources(sources, new PartSearch(reader, stock)).onModuleInit();
  sources.register(searchJobs);
  const registry = new HistoryRegistry();
  new StoresHistory(registry).onModuleInit();
  registry.register(labelHistory, countHistory, stripHistory, gradeHistory, arrivalHistory, fittingHistory, openingHistory);
  registry.register(reservationHistory, containerHistory, warningHistory, ...sellingHistory);
  return {
    reader,
    search: new Search(reader, sources),
    history: new History(reader, registry),
    asOf: new StockAsOf(reader),
    close: () => pool.end(),
  };
}
