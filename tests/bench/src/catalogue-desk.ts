/** What answers about the catalogue, in this process and without HTTP, on a pool like that of the server. */
import { BearingDesk } from '@corewright/api/dist/catalogue/bearings/bearing-desk.js';
import { ShippedBearings } from '@corewright/api/dist/catalogue/bearings/shipped-bearings.js';
import { PartStock } from '@corewright/api/dist/catalogue/part-stock.js';
import { MayServeAnswer } from '@corewright/api/dist/catalogue/relations/may-serve.js';
import { PartSearch } from '@corewright/api/dist/catalogue/search/part-search.js';
import { WorkshopClock } from '@corewright/api/dist/people/workshop.js';
import { Database, type Reader } from '@corewright/api/dist/platform/database/database.js';
import { createPool } from '@corewright/api/dist/platform/database/pool.js';
import { StockQueries } from '@corewright/api/dist/stores/stock.queries.js';
import type { BenchDatabase } from './bench-cluster.js';

export interface CatalogueDesk {
  reader: Reader;
  search: PartSearch;
  mayServe: MayServeAnswer;
  bearings: BearingDesk;
  close(): Promise<void>;
}

/** The same number of connections as the server has. */
const connectionsMax = 16;

export async function openDesk({ servingUrl }: BenchDatabase): Promise<CatalogueDesk> {
  const pool = createPool(servingUrl, { max: connectionsMax });
  const reader = new Database(pool, servingUrl);
  const stock = new PartStock();
  stock.registerStock(new StockQueries(stock, new WorkshopClock(reader, () => new Date())));
  await new ShippedBearings(reader).onModuleInit();
  return {
    reader,
    search: new PartSearch(reader, stock),
    mayServe: new MayServeAnswer(reader, stock),
    bearings: new BearingDesk(reader, stock),
    close: () => pool.end(),
  };
}
