import type {
  ClaimFact,
  DonorFact,
  FittedFact,
  ReceiptFact,
  SetFact,
  StockFact,
  WantingJob,
  WorkshopFacts,
} from './coverage-facts.js';
import { grouped } from './grouped.js';

/** The facts by what they are asked for. */
export interface WorkshopIndex {
  jobs: ReadonlyMap<string, WantingJob>;
  lots: ReadonlyMap<string, StockFact>;
  sets: ReadonlyMap<string, SetFact>;
  fittedInLine: ReadonlyMap<string, readonly FittedFact[]>;
  /** by the part */
  stock: ReadonlyMap<string, readonly StockFact[]>;
  claims: ReadonlyMap<string, readonly ClaimFact[]>;
  receipts: ReadonlyMap<string, readonly ReceiptFact[]>;
  donors: ReadonlyMap<string, readonly DonorFact[]>;
}

export function indexOf(facts: WorkshopFacts): WorkshopIndex {
  const byPart = ({ partId }: { partId: string }) => partId;
  return {
    jobs: new Map(facts.jobs.map((job) => [job.id, job])),
    lots: new Map(facts.stock.map((lot) => [lot.thingId, lot])),
    sets: new Map(facts.sets.map((set) => [set.id, set])),
    fittedInLine: grouped(facts.fitted, ({ lineId }) => lineId),
    stock: grouped(facts.stock, byPart),
    claims: grouped(facts.claims, ({ partId }) => partId ?? ''),
    receipts: grouped(facts.receipts, byPart),
    donors: grouped(facts.donors, byPart),
  };
}
