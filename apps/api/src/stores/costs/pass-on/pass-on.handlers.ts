import type { KeepRowWorth, PassedOn, ShareLoadCost } from '@corewright/contracts/costs';
import { changesOfShares } from '@corewright/costing/share-cost';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import type { Transaction } from '../../../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../../../platform/commands/version-seen.js';
import { changedMeanwhile, done, invariant, notFound, type Result, refused } from '../../../platform/refusal.js';
import { lockOf } from '../../ledger.js';
import { decideSharing } from '../decide-sharing.js';
import { namedShares, sameShares, sharedSoAlready } from '../named-shares.js';
import { worthKeyed } from '../worth-keyed.js';
import { writePassing } from './pass-on.js';
import { passedOnPage } from './passed-on-page.js';
import { type PassedOnState, PassedOnStates } from './passed-on-state.js';

const nothingComesOut = notFound('That unit or box');

/** Passes what a unit or a box cost on to what came out of it, in one of the four ways; again, it writes what changes. */
@Injectable()
export class PassOnHandler {
  constructor(private readonly states: PassedOnStates) {}

  async handle(transaction: Transaction, wholeId: string, input: ShareLoadCost): Promise<Result<PassedOn>> {
    const locked = await lockedState(transaction, wholeId, this.states);
    if (!locked.ok) return locked;
    const state = locked.value;
    if (state.cannot !== null)
      return refused({
        status: 409,
        code: 'cost-not-known',
        title: 'Not passed on',
        detail: `${state.cannot} Nothing was changed.`,
      });
    const keyed = namedShares(input.shares, state.ours);
    if (!keyed.ok) return keyed;
    const decided = decideSharing(state.toShare, input.way, keyed.value);
    if (!decided.ok) return decided;
    if (input.shares.length > 0 && !sameShares(keyed.value, decided.value)) return refused(changedMeanwhile(passedOnPage(state)));
    const [last] = state.passings;
    if (changesOfShares(state.borne, decided.value).size === 0 && last?.way === input.way) return refused(sharedSoAlready);
    await writePassing(transaction, state, input, decided.value);
    return done(await pageAfter(transaction, wholeId, this.states));
  }
}

const upsertWorth = `
  INSERT INTO part_worths (whole_id, thing_id, worth_minor, weight_kg) VALUES ($1, $2, $3, $4)
  ON CONFLICT (whole_id, thing_id) DO UPDATE
    SET worth_minor = EXCLUDED.worth_minor, weight_kg = EXCLUDED.weight_kg, version = part_worths.version + 1`;

/** Keeps what a part of a unit or a box, or what is left in it, is thought to be worth and what it weighs. */
@Injectable()
export class KeepPartWorthHandler {
  constructor(private readonly states: PassedOnStates) {}

  async handle(
    transaction: Transaction,
    { id: wholeId, partId }: { id: string; partId: string },
    input: z.infer<typeof KeepRowWorth>,
  ): Promise<Result<PassedOn>> {
    const locked = await lockedState(transaction, wholeId, this.states);
    if (!locked.ok) return locked;
    const part = locked.value.parts.find((each) => each.id === partId);
    if (part === undefined) return refused(notFound('That part of it'));
    const late = whyNotCurrent(transaction.command, part);
    if (late !== null) return refused(late);
    const keyed = worthKeyed(input, locked.value.ours);
    if (!keyed.ok) return keyed;
    await transaction.rows(upsertWorth, [wholeId, partId, keyed.value.worth, keyed.value.weightKg]);
    transaction.news(`thing:${wholeId}`);
    return done(await pageAfter(transaction, wholeId, this.states));
  }
}

/** Sharings of one whole follow one another. */
async function lockedState(transaction: Transaction, wholeId: string, states: PassedOnStates): Promise<Result<PassedOnState>> {
  if ((await lockOf(transaction, wholeId)) === null) return refused(nothingComesOut);
  const state = await states.of(transaction, wholeId);
  return state === null ? refused(nothingComesOut) : done(state);
}

async function pageAfter(transaction: Transaction, wholeId: string, states: PassedOnStates): Promise<PassedOn> {
  const state = await states.of(transaction, wholeId);
  invariant(state, 'what was locked is in the books');
  return passedOnPage(state);
}
