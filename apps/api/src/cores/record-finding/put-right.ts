import { compareDecimals, type Decimal, decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { done, invariant, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { voidCodes } from '../../scanning/code-register.js';
import { mayLift } from '../../stores/change-hold/decide-hold.js';
import { lifterOf } from '../../stores/change-hold/hold.queries.js';
import { whyOfNoUse } from '../../stores/goods-apart/why-barred.js';
import { type Balance, claimLess, claimsOn, type LockedThing, lockOf, whereIs } from '../../stores/ledger.js';
import { backIntoWhole } from '../../stores/take-off/out-of-whole.js';
import type { StripDownUnderWay } from '../lock-strip-down.js';
import type { StandingFinding } from '../strip-state.js';
import type { Fate } from './fate.js';

/** What an earlier finding made, when the new one goes on with it. */
export interface GoesOn {
  thing: LockedThing;
  holderId: string;
}

/**
 * Undoes what a finding did that was a mistake. A component that stays one keeps its tag and only goes elsewhere; a lot, or a component that becomes a
 * lot, goes back into its unit and out of the books, and its label is void.
 * @returns what goes on; null where nothing does
 */
export async function undoFinding(
  transaction: Transaction,
  { unit, job }: StripDownUnderWay,
  wrong: StandingFinding,
  { fate: next, quantity }: { fate: Fate; quantity: Decimal },
): Promise<Result<GoesOn | null>> {
  if (wrong.thingId === null) return done(null);
  const thing = await lockOf(transaction, wrong.thingId);
  invariant(thing, 'what a finding made is in the books');
  const barred = whyOfNoUse(thing);
  if (barred !== null) return refused(barred);
  // to put a finding right is to lift the hold that it put on; one that waits for somebody by name still does
  const lifter = thing.heldBackReason === null ? null : await lifterOf(transaction, thing.id);
  const lifted = lifter === null ? null : mayLift({ lifter }, transaction.command.person);
  if (lifted !== null && !lifted.ok) return lifted;
  const claims = await claimsOn(transaction, thing.id);
  if (claims.some((claim) => claim.claimantId !== job?.id)) return refused(promised);
  const here = await wholeAt(transaction, thing, wrong);
  if (here === null) return refused(movedOn);
  const wasFitted = thing.kind === 'L' && (await transaction.row(takenOutAgain, [thing.id])) !== null;
  if (wasFitted && (next.make === 'nothing' || compareDecimals(quantity, wrong.quantity) !== 0)) return refused(outAlready);
  const goesOn = wasFitted || (thing.kind === 'C' && next.make === 'component');
  // What goes to an outworker comes back, and stays promised to the job meanwhile.
  const staysPromised = goesOn && next.make === 'component' && next.to === 'firm';
  if (!staysPromised) for (const claim of claims) claimLess(transaction, claim.id, claim.quantity);
  if (goesOn) return done({ thing, holderId: here.holderId });
  const back = {
    thingId: thing.id,
    here,
    quantity: formatDecimal(wrongQuantity(thing, wrong)),
    reason: 'put right at the strip-down',
  };
  await backIntoWhole(transaction, { wholeId: unit.id, ...back });
  await voidCodes(transaction, thing.id, `A mistake at the strip-down of ${unit.code}, put right since`);
  return done(null);
}

function wrongQuantity(thing: LockedThing, wrong: StandingFinding) {
  return thing.kind === 'L' ? wrong.quantity : decimalFrom('1');
}

/** It is in a unit again, or goes on under the label of another lot. */
const goneOn = (balance: Balance): boolean => balance.kind === 'unit' || balance.kind === 'regrouping';

/** Where all of it is; null where some of it has gone elsewhere or into a unit. */
async function wholeAt(transaction: Transaction, thing: LockedThing, wrong: StandingFinding): Promise<Balance | null> {
  const there = (await whereIs(transaction, thing.id)).filter((balance) => decimalFrom(balance.quantity) > 0n);
  const [only, another] = there;
  if (only === undefined || another !== undefined || goneOn(only)) return null;
  return compareDecimals(decimalFrom(only.quantity), wrongQuantity(thing, wrong)) === 0 ? only : null;
}

const takenOutAgain = 'SELECT 1 AS there FROM lots WHERE thing_id = $1 AND taken_from_lot_id IS NOT NULL';

const outAlready: Refusal = {
  status: 409,
  code: 'fitted-lot-out',
  title: 'It is out by now',
  detail:
    'This was fitted here, and the finding took it out as a lot of its own, fitted once. Say of just as many where they go instead; to put them back, scan that lot onto the job. Nothing was changed.',
};

const promised: Refusal = {
  status: 409,
  code: 'claimed-for-another-job',
  title: 'Promised since',
  detail:
    'What this finding put into stores is promised to a job by now. Take it back from that job first, then put the finding right. Nothing was changed.',
};

const movedOn: Refusal = {
  status: 409,
  code: 'moved-on',
  title: 'It has gone on since',
  detail:
    'What this finding made has been fitted, or some of it has been used or moved apart. Put that right first, or record what is there now in Stores. Nothing was changed.',
};
