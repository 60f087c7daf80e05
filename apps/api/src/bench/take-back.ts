import type { TakeBack, TakenBack, TakenOut, TakeOut } from '@corewright/contracts/bench';
import {
  compareDecimals,
  type Decimal,
  decimalFrom,
  formatDecimal,
  lesserDecimal,
  subtractDecimals,
  sumDecimals,
  zero,
} from '@corewright/quantities/decimal';
import { checkQuantity, type UnitOfMeasure } from '@corewright/quantities/unit-of-measure';
import type * as z from 'zod';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import { newId } from '../platform/new-id.js';
import { badInput, done, invariant, notFound, type Result, refused } from '../platform/refusal.js';
import { logClaimChange } from '../stores/claim-changes.js';
import { claimLess, claimMore, claimsOn, lockOf, move, whereIs } from '../stores/ledger.js';
import { codeOf } from '../stores/place-words.js';
import { putAwayReasons, putBack } from '../stores/put-away/put-back.js';
import { outAgain } from '../stores/take-off/out-again.js';

interface ActRow extends Record<string, unknown> {
  id: string;
  thingId: string;
  code: string;
  name: string;
  quantity: string;
  from: string;
  to: string;
  reason: string;
  fittingId: string | null;
  lineId: string | null;
  jobId: string | null;
  reversedBy: string | null;
  ended: boolean;
  fromKind: string;
  /** how many of it the job had reserved before */
  reserved: string;
}

const readAct = `
  SELECT movements.id, movements.thing_id AS "thingId", movements.quantity, from_holder_id AS "from", to_holder_id AS "to", reason,
         ${codeOf('movements.thing_id')} AS code,
         coalesce(parts.name, nullif(lots.words, ''), components.name, 'the thing') AS name,
         fittings.id AS "fittingId", fittings.job_line_id AS "lineId", coalesce(job_lines.job_id, tray_job.id) AS "jobId",
         (SELECT id FROM movements AS undone WHERE undone.reverses_id = movements.id) AS "reversedBy",
         EXISTS (SELECT 1 FROM fitting_endings WHERE fitting_id = fittings.id) AS ended, holders.kind AS "fromKind",
         -(SELECT coalesce(sum(quantity), 0) FROM claim_changes
            WHERE thing_id = movements.thing_id
              AND (command_key = movements.command_key AND claim_changes.kind IN ('picked', 'fitted')
                OR claim_changes.kind = 'put back' AND command_key IN (
                     SELECT undone.command_key FROM movements AS undone JOIN movements AS first ON first.id = undone.reverses_id
                      WHERE first.command_key = movements.command_key))) AS reserved
    FROM movements
    JOIN holders ON holders.id = from_holder_id
    LEFT JOIN lots ON lots.thing_id = movements.thing_id
    LEFT JOIN components ON components.thing_id = movements.thing_id
    LEFT JOIN parts ON parts.id = coalesce(lots.part_id, components.part_id)
    LEFT JOIN fittings ON fittings.movement_id = movements.id
    LEFT JOIN job_lines ON job_lines.id = fittings.job_line_id
    LEFT JOIN jobs AS tray_job ON tray_job.tray_id = to_holder_id
   WHERE movements.id = $1`;
const lockJob = 'SELECT state FROM jobs WHERE id = $1 FOR NO KEY UPDATE';
const insertEnding = `
  INSERT INTO fitting_endings (id, command_key, fitting_id, kind, quantity, movement_id, new_lot_id, why, person_id)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)`;

/** A mis-scan is reversed: a second movement names the first. What came out of a tray goes back into it, promised as before. */
export async function takeBack(
  transaction: Transaction,
  actId: string,
  input: z.infer<typeof TakeBack>,
): Promise<Result<z.infer<typeof TakenBack>>> {
  const first = await transaction.row<ActRow>(readAct, [actId]);
  if (!first) return refused(notFound('This act'));
  if (putAwayReasons.includes(first.reason)) return takePutAwayBack(transaction, first, input);
  if (first.jobId) await transaction.row(lockJob, [first.jobId]);
  const thing = await lockOf(transaction, first.thingId);
  const act = await transaction.row<ActRow>(readAct, [actId]);
  invariant(act, 'an act that was there stays');
  const barred = whyNotTakenBack(act) ?? (thing?.condemned || thing?.keptForOwner ? whyNotToUse(act) : null);
  if (barred) return refused({ status: 409, code: 'cannot-be-taken-back', title: 'Not to be taken back', detail: barred });
  const reserved = lesserDecimal(decimalFrom(act.reserved), decimalFrom(act.quantity));
  if (act.reason === 'picked' && act.jobId) await releasePick(transaction, act, reserved);
  const movementId = move(transaction, {
    thingId: act.thingId,
    quantity: act.quantity,
    fromHolderId: act.to,
    toHolderId: act.from,
    reason: 'taken back',
    occurredAt: input.occurredAt,
    reversesId: act.id,
  });
  if (act.fittingId) {
    const { key, person } = transaction.command;
    await transaction.rows(insertEnding, [
      newId(),
      key,
      act.fittingId,
      'taken back',
      act.quantity,
      movementId,
      null,
      input.why,
      person.id,
    ]);
    const again = act.fromKind === 'tray' ? decimalFrom(act.quantity) : reserved;
    if (again > zero && act.jobId) claimMore(transaction, act.thingId, act.jobId, act.lineId, formatDecimal(again));
  }
  if (reserved > zero && act.fromKind !== 'tray' && act.jobId) {
    const { thingId, jobId, lineId } = act;
    logClaimChange(transaction, { on: { thingId }, jobId, lineId, quantity: formatDecimal(reserved), kind: 'put back' });
  }
  if (act.jobId) transaction.news(`job:${act.jobId}`, 'jobs', 'today');
  const quantity = formatDecimal(decimalFrom(act.quantity));
  return done({
    actId: movementId,
    act: 'taken back',
    thing: { id: act.thingId, code: act.code, name: act.name },
    quantity,
    words: `${act.name}: ${quantity} back where it was.`,
  });
}

/** What one act put away goes back whole, however many things and places it was. */
async function takePutAwayBack(
  transaction: Transaction,
  act: ActRow,
  { occurredAt }: z.infer<typeof TakeBack>,
): Promise<Result<z.infer<typeof TakenBack>>> {
  const back = await putBack(transaction, act.id, occurredAt);
  if (!back.ok) return back;
  const { steps, actId } = back.value;
  const things = new Set(steps.map(({ thingId }) => thingId)).size;
  const quantity = formatDecimal(sumDecimals(steps.map((step) => decimalFrom(step.quantity))));
  const where = [...new Set(steps.map(({ fromWords }) => fromWords))].join('; ');
  return done({
    actId,
    act: 'taken back',
    thing: { id: act.thingId, code: act.code, name: things === 1 ? act.name : 'Things that were moved together' },
    quantity: things === 1 ? quantity : String(things),
    words: `${things === 1 ? `${act.name}: ${quantity} back where it was` : `${things} things are back where they were`}, in ${where}.`,
  });
}

function whyNotTakenBack(act: ActRow): string | null {
  if (act.reversedBy !== null) return 'This was taken back already. Nothing was changed.';
  if (act.ended) return 'This part was taken out again since. Nothing was changed.';
  if (!['picked', 'fitted'].includes(act.reason))
    return 'Only a pick, a fit or a putting away can be taken back. Put right anything else in Stores.';
  return null;
}

/** What stands apart leaves a tray or a unit, but goes back into none, and is promised to nobody. */
function whyNotToUse({ fittingId, fromKind }: ActRow): string | null {
  if (fittingId !== null)
    return 'This was condemned since, or is kept for its owner. Take it out of the unit instead, so that it gets a tag of its own. Nothing was changed.';
  return fromKind === 'tray'
    ? 'This was condemned since, or is kept for its owner, so it goes back into no tray. Put it away where it is to lie. Nothing was changed.'
    : null;
}

/** What was picked is promised no longer, but for what the job had reserved before. */
async function releasePick(transaction: Transaction, act: ActRow, reserved: Decimal): Promise<void> {
  let left = subtractDecimals(decimalFrom(act.quantity), reserved);
  const claims = (await claimsOn(transaction, act.thingId)).filter((claim) => claim.claimantId === act.jobId);
  for (const claim of claims.toReversed()) {
    const part = lesserDecimal(left, decimalFrom(claim.quantity));
    if (part > zero) claimLess(transaction, claim.id, formatDecimal(part));
    left = subtractDecimals(left, part);
  }
}

interface FittingRow extends Record<string, unknown> {
  id: string;
  thingId: string;
  ownerId: string | null;
  kind: string;
  code: string;
  quantity: string;
  left: string;
  unitId: string;
  jobId: string;
  name: string;
  unitOfMeasure: UnitOfMeasure;
}

const readFitting = `
  SELECT fittings.id, fittings.thing_id AS "thingId", things.owner_id AS "ownerId", things.kind, fittings.quantity, jobs.unit_id AS "unitId", jobs.id AS "jobId",
         ${codeOf('things.id')} AS code,
         fittings.quantity - coalesce((SELECT sum(quantity) FROM fitting_endings WHERE fitting_id = fittings.id), 0) AS left,
         coalesce(parts.name, components.name, nullif(lots.words, ''), 'part') AS name, coalesce(parts.unit_of_measure, 'each') AS "unitOfMeasure"
    FROM fittings JOIN things ON things.id = fittings.thing_id JOIN job_lines ON job_lines.id = job_line_id JOIN jobs ON jobs.id = job_id
    LEFT JOIN lots ON lots.thing_id = things.id LEFT JOIN components ON components.thing_id = things.id
    LEFT JOIN parts ON parts.id = coalesce(lots.part_id, components.part_id)
   WHERE fittings.id = $1`;
const isTray = "SELECT 1 FROM holders WHERE id = $1 AND kind = 'tray'";
const isPlace = "SELECT 1 FROM holders WHERE id = $1 AND kind IN ('place', 'tray')";

/**
 * Takes a fitted part out of the unit again. It is no reversal but a new fact: the part becomes a lot of its own,
 * fitted once, never new old stock again. A component keeps its own tag and only moves.
 */
export async function takeOut(
  transaction: Transaction,
  fittingId: string,
  input: z.infer<typeof TakeOut>,
): Promise<Result<z.infer<typeof TakenOut>>> {
  const first = await transaction.row<FittingRow>(readFitting, [fittingId]);
  if (!first) return refused(notFound('This fitting'));
  await transaction.row(lockJob, [first.jobId]);
  const thing = await lockOf(transaction, first.thingId);
  const fitting = await transaction.row<FittingRow>(readFitting, [fittingId]);
  invariant(fitting, 'a fitting stays');
  const quantity = checkQuantity(input.quantity, fitting.unitOfMeasure);
  if (!quantity.ok) return refused(badInput('quantity', quantity.error.sentence));
  if (compareDecimals(quantity.value, decimalFrom(fitting.left)) > 0)
    return refused(
      badInput('quantity', `${formatDecimal(decimalFrom(fitting.left))} of it are in the unit. Key no more than that.`),
    );
  if (!(await transaction.row(isPlace, [input.placeId])))
    return refused(badInput('placeId', 'That place is not in the books. Scan or choose a place.'));
  if (thing?.condemned && (await transaction.row(isTray, [input.placeId])))
    return refused(badInput('placeId', 'It was condemned, so it lies in no tray. Choose a place of the stores.'));
  const amount = formatDecimal(quantity.value);
  const out =
    fitting.kind === 'L'
      ? await intoNewLot(transaction, fitting, input, amount)
      : await asItIs(transaction, fitting, input, amount);
  const { key, person } = transaction.command;
  await transaction.rows(insertEnding, [
    newId(),
    key,
    fittingId,
    'removed',
    amount,
    out.movementId,
    out.newLotId,
    input.why,
    person.id,
  ]);
  transaction.news(`job:${fitting.jobId}`, 'jobs', 'today');
  return done({
    actId: out.movementId,
    act: 'removed',
    thing: { id: out.thingId, code: out.code, name: fitting.name },
    quantity: amount,
  });
}

interface Out {
  thingId: string;
  code: string;
  movementId: string;
  newLotId: string | null;
}

async function intoNewLot(
  transaction: Transaction,
  fitting: FittingRow,
  input: z.infer<typeof TakeOut>,
  amount: string,
): Promise<Out> {
  const { thingId, unitId, ownerId } = fitting;
  const step = { thingId, unitId, ownerId, newLotId: input.lotId, quantity: amount, toHolderId: input.placeId, why: input.why };
  return { thingId: input.lotId, ...(await outAgain(transaction, step)), newLotId: input.lotId };
}

async function asItIs(
  transaction: Transaction,
  fitting: FittingRow,
  input: z.infer<typeof TakeOut>,
  amount: string,
): Promise<Out> {
  const inUnit = sumDecimals(
    (await whereIs(transaction, fitting.thingId))
      .filter((balance) => balance.holderId === fitting.unitId)
      .map((balance) => decimalFrom(balance.quantity)),
  );
  invariant(inUnit > zero, 'a fitted component is in the unit');
  const movementId = move(transaction, {
    thingId: fitting.thingId,
    quantity: amount,
    fromHolderId: fitting.unitId,
    toHolderId: input.placeId,
    reason: 'taken out after fitting',
  });
  return { thingId: fitting.thingId, code: fitting.code, movementId, newLotId: null };
}
