import type { SharingWay } from '@corewright/contracts/costs';
import { changesOfShares, type Shares } from '@corewright/costing/share-cost';
import { addMoney, noMoney, subtractMoney, sumMoney } from '@corewright/quantities/money';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../../platform/commands/unit-of-work.js';
import { newId } from '../../../platform/new-id.js';
import { decideSharing } from '../decide-sharing.js';
import { writePassed } from '../value-ledger.js';
import { bears, type PassedOnState, PassedOnStates } from './passed-on-state.js';

const insertPassing = `
  INSERT INTO cost_passings (id, command_key, whole_id, way, bore_minor, currency, why, person_id) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`;

export interface Passing {
  way: SharingWay;
  why: string;
}

/** Writes that a cost was passed on, and what that changed for each; what was written before stays. */
export async function writePassing(
  transaction: Transaction,
  state: PassedOnState,
  { way, why }: Passing,
  after: Shares,
): Promise<void> {
  const { whole, ours, bore } = state;
  const { key, person } = transaction.command;
  const passingId = newId();
  await transaction.rows(insertPassing, [passingId, key, whole.id, way, (bore ?? noMoney).toString(), ours, why, person.id]);
  const entries = [...changesOfShares(state.borne, after)].map(([thingId, amount]) => ({ thingId, amount }));
  await writePassed(transaction, { wholeId: whole.id, passingId, currency: ours, why }, entries);
  transaction.news(`thing:${whole.id}`, ...entries.map(({ thingId }) => `thing:${thingId}` as const));
}

/** What is said of the cost of what comes out of a unit or a box, without a figure: those who take it out see no money. */
export const costWords = {
  unknown: (kind: 'unit' | 'box') => `Its share of the ${kind}’s cost is not known.`,
  waiting: (kind: 'unit' | 'box') => `Its share of the ${kind}’s cost is not worked out yet.`,
  done: (kind: 'unit' | 'box') => `Its share of the ${kind}’s cost was worked out anew.`,
};

/** Whoever takes something out of a unit or a box, or puts that right, has its cost follow here. */
@Injectable()
export class PassOn {
  constructor(private readonly states: PassedOnStates) {}

  /**
   * What was passed on before is shared anew by the same way, where that can be reckoned; where it cannot, what fell out gives its share
   * back to the whole. Nothing is passed on that nobody has shared yet.
   * @returns what is said of it
   */
  async anew(transaction: Transaction, wholeId: string, why: string): Promise<string> {
    const state = await this.states.of(transaction, wholeId);
    const kind = state?.whole.kind === 'X' ? 'box' : 'unit';
    if (state === null || state.cannot !== null) return costWords.unknown(kind);
    const [last] = state.passings;
    if (last === undefined) return costWords.waiting(kind);
    const { way } = last;
    const reckoned = way === 'by hand' ? null : decideSharing(state.toShare, way, new Map());
    const after = reckoned?.ok === true ? reckoned.value : givenBack(state);
    if (after !== null && changesOfShares(state.borne, after).size > 0)
      await writePassing(transaction, state, { way, why }, after);
    return reckoned?.ok === true ? costWords.done(kind) : costWords.waiting(kind);
  }
}

/** What each bears when those that bear none any more have given their share back to the whole; null where nobody has to, or the whole bears none. */
function givenBack({ whole, parts, borne, bore }: PassedOnState): Shares | null {
  const bearing = new Set(parts.filter(bears).map((part) => part.id));
  const isAll = [...borne].every(([id, share]) => bearing.has(id) || share === noMoney);
  if (isAll || !bearing.has(whole.id)) return null;
  const others = [...borne].filter(([id]) => bearing.has(id) && id !== whole.id);
  const kept = subtractMoney(addMoney(bore ?? noMoney, noMoney), sumMoney(others.map(([, share]) => share)));
  return new Map([[whole.id, kept], ...others]);
}
