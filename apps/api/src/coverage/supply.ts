import { type Decimal, decimalFrom, lesserDecimal, subtractDecimals, zero } from '@corewright/quantities/decimal';
import type { ClaimFact, CoverageFacts, LineFacts, ReceiptFact, StockFact } from './coverage-facts.js';

/** What is left to give out within the job. */
export class Supply {
  private readonly stockLeft: Map<string, Decimal>;
  private readonly receiptsLeft: Map<string, Decimal>;
  private readonly claimsLeft: Map<ClaimFact, Decimal>;

  constructor(private readonly facts: CoverageFacts) {
    this.stockLeft = new Map(facts.stock.map((lot) => [lot.thingId, decimalFrom(lot.free)]));
    this.receiptsLeft = new Map(facts.receipts.map((receipt) => [receipt.id, decimalFrom(receipt.outstanding)]));
    this.claimsLeft = new Map(facts.claims.map((claim) => [claim, decimalFrom(claim.quantity)]));
  }

  /** Claims made for the line first; those that the job made for no line in particular serve any line of the part. */
  claimsFor(line: LineFacts): ClaimFact[] {
    return [
      ...this.facts.claims.filter((claim) => claim.lineId === line.id),
      ...this.facts.claims.filter((claim) => claim.lineId === null && claim.partId === line.partId),
    ];
  }

  takeClaim(claim: ClaimFact, wanted: Decimal): Decimal {
    return take(this.claimsLeft, claim, wanted);
  }

  takeStock(lot: StockFact, wanted: Decimal): Decimal {
    return take(this.stockLeft, lot.thingId, wanted);
  }

  takeReceipt(receipt: ReceiptFact, wanted: Decimal): Decimal {
    return take(this.receiptsLeft, receipt.id, wanted);
  }
}

function take<Key>(left: Map<Key, Decimal>, key: Key, wanted: Decimal): Decimal {
  const there = left.get(key) ?? zero;
  const taken = lesserDecimal(there, wanted);
  left.set(key, subtractDecimals(there, taken));
  return taken;
}
