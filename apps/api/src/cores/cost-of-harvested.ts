import { Injectable } from '@nestjs/common';
import type { Transaction } from '../platform/commands/unit-of-work.js';

/** What was taken out of a unit and is to carry a share of its cost. */
export interface Harvested {
  unitId: string;
  lotId: string;
  partId: string | null;
  quantity: string;
}

/** Passes a share of a unit's cost on to what was taken out of it, and says in words what it came to. */
export type PassCostOn = (transaction: Transaction, harvested: Harvested) => Promise<string>;

/** Said where nobody knows what the unit cost: unknown is not nil. */
export const costUnknown = 'Its share of the unit’s cost is not known.';

/** The value ledger registers here how cost follows what comes out of a unit; until it does, the cost is unknown and said to be. */
@Injectable()
export class CostOfHarvested {
  private passOn: PassCostOn | null = null;

  register(passOn: PassCostOn): void {
    this.passOn = passOn;
  }

  async carry(transaction: Transaction, harvested: Harvested): Promise<string> {
    return (await this.passOn?.(transaction, harvested)) ?? costUnknown;
  }
}
