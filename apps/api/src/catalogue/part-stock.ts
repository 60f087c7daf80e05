import type { PartPage } from '@corewright/contracts/catalogue';
import { Injectable } from '@nestjs/common';
import type { Reader } from '../platform/database/database.js';
import type { Offered } from './build-standards/accepts.js';

/** A lot of which something is free. */
export interface FreeLot extends Offered {
  partId: string;
  code: string;
  free: string;
  /** why its age lets nobody fit it as it is, in a few words; null where it does not */
  storageStop: string | null;
}

export interface StockOfPart {
  free: string;
  places: string;
}

/** What stores knows of a part's stock. */
export interface StockOfParts {
  /** Free of ours for each of these parts: held less claimed of what may be used. Exact decimals; a part without stock is left out. */
  freeOf(reader: Reader, partIds: readonly string[]): Promise<ReadonlyMap<string, string>>;
  /** The same with the places where lots of each of these parts lie, in words; empty where none lies anywhere. */
  stockOf(reader: Reader, partIds: readonly string[]): Promise<ReadonlyMap<string, StockOfPart>>;
  /** Every lot of these parts of which something is free, with what a build standard looks at. */
  freeLotsOf(reader: Reader, partIds: readonly string[]): Promise<FreeLot[]>;
  /** SQL: `free` and `places` of one part, for a statement that finds parts. @param partId the column that has its id */
  columns(partId: string): string;
  lotsOf(reader: Reader, partId: string): Promise<PartPage['lots']>;
}

/** What is expected of a part from suppliers. */
export type ReceiptsOfPart = (reader: Reader, partId: string) => Promise<PartPage['receipts']>;

/**
 * A part's page shows what later areas know of it: stores registers the stock, buying the receipts. The catalogue itself knows
 * neither lots nor orders.
 */
@Injectable()
export class PartStock implements StockOfParts {
  private stock: StockOfParts | null = null;
  private receipts: ReceiptsOfPart | null = null;

  registerStock(stock: StockOfParts): void {
    this.stock = stock;
  }

  registerReceipts(receipts: ReceiptsOfPart): void {
    this.receipts = receipts;
  }

  async freeOf(reader: Reader, partIds: readonly string[]): Promise<ReadonlyMap<string, string>> {
    if (this.stock === null || partIds.length === 0) return new Map();
    return this.stock.freeOf(reader, partIds);
  }

  async stockOf(reader: Reader, partIds: readonly string[]): Promise<ReadonlyMap<string, StockOfPart>> {
    if (this.stock === null || partIds.length === 0) return new Map();
    return this.stock.stockOf(reader, partIds);
  }

  async freeLotsOf(reader: Reader, partIds: readonly string[]): Promise<FreeLot[]> {
    return (await this.stock?.freeLotsOf(reader, partIds)) ?? [];
  }

  columns(partId: string): string {
    return this.stock?.columns(partId) ?? "'0' AS free, '' AS places";
  }

  async lotsOf(reader: Reader, partId: string): Promise<PartPage['lots']> {
    return (await this.stock?.lotsOf(reader, partId)) ?? [];
  }

  async receiptsOf(reader: Reader, partId: string): Promise<PartPage['receipts']> {
    return (await this.receipts?.(reader, partId)) ?? [];
  }
}
