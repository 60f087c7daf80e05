import type { UnKit, UnKitDone } from '@corewright/contracts/un-kit';
import { type Decimal, decimalFrom, formatDecimal, subtractDecimals, sumDecimals, zero } from '@corewright/quantities/decimal';
import { Injectable } from '@nestjs/common';
import { type JobForScan, lockJobForScan } from '../../bench/scan-facts.js';
import { closedStates, spoken } from '../../jobs/job.queries.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { badInput, done, notFound, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { logClaimChange } from '../../stores/claim-changes.js';
import { leavingClaims } from '../../stores/leaving-claims.js';
import { claimLess, claimsOn, locksOf, move, whereIs } from '../../stores/ledger.js';
import { placeForGoods } from '../../stores/place-for-goods.js';
import { trayContents } from './un-kit.queries.js';

const insertUnKit = 'INSERT INTO un_kits (id, command_key, job_id, claims, person_id) VALUES ($1, $2, $3, $4, $5)';
const insertRow = 'INSERT INTO un_kit_rows (movement_id, un_kit_id) VALUES ($1, $2)';
const insertClaim = `
  INSERT INTO un_kit_claims (id, un_kit_id, thing_id, job_line_id, quantity, stays) VALUES ($1, $2, $3, $4, $5, $6)`;
const selectUnKit = 'SELECT 1 AS there FROM un_kits WHERE id = $1';

/** Everything that a job has in its tray, or some of it, goes back to places in one act; its claims go with it or stay as reservations. */
@Injectable()
export class UnKitHandler {
  async handle(transaction: Transaction, jobId: string, input: UnKit): Promise<Result<UnKitDone>> {
    if (await transaction.row(selectUnKit, [input.id])) return refused(badInput('id', 'This was put back already.'));
    const job = await lockJobForScan(transaction, jobId);
    if (job === null) return refused(notFound('This job'));
    const thingIds = [...new Set(input.rows.map(({ thingId }) => thingId))].toSorted();
    await locksOf(transaction, thingIds);
    const refusal = await this.whyNot(transaction, job, input);
    if (refusal !== null) return refused(refusal);
    await this.write(transaction, job, input, thingIds);
    return done({ id: input.id, jobId, words: wordsOf(job, input) });
  }

  private async whyNot(transaction: Transaction, job: JobForScan, input: UnKit): Promise<Refusal | null> {
    if (input.claims === 'as before' && closedStates.includes(job.state))
      return badInput('claims', `This job is ${job.state}, and keeps nothing reserved. Choose to give it up.`);
    for (const [index, { placeId, quantity }] of input.rows.entries()) {
      const mayLie = await placeForGoods(transaction, placeId, `rows.${index}.placeId`);
      if (!mayLie.ok) return mayLie.error;
      if (decimalFrom(quantity) === zero) return badInput(`rows.${index}.quantity`, 'Nought moves nothing. Leave the row out.');
    }
    const contents = await trayContents(transaction, job.id);
    for (const [index, { thingId }] of input.rows.entries()) {
      const rows = contents?.rows.filter(({ thing }) => thing.id === thingId) ?? [];
      const lying = sumDecimals(rows.map(({ quantity }) => decimalFrom(quantity)));
      const going = goingOf(input, thingId);
      if (going > lying) return notSoMany(index, rows[0]?.thing ?? null, lying, going);
    }
    return null;
  }

  private async write(transaction: Transaction, job: JobForScan, input: UnKit, thingIds: readonly string[]): Promise<void> {
    const { key, person } = transaction.command;
    const contents = await trayContents(transaction, job.id);
    transaction.send(insertUnKit, [input.id, key, job.id, input.claims, person.id]);
    for (const thingId of thingIds) {
      const ofThing = contents?.rows.filter(({ thing }) => thing.id === thingId) ?? [];
      const reserved = sumDecimals(ofThing.map((row) => decimalFrom(row.reserved)));
      await releaseClaims(transaction, job, input, thingId, input.claims === 'as before' ? reserved : zero);
    }
    for (const { thingId, placeId, quantity } of input.rows) {
      const movementId = move(transaction, {
        thingId,
        quantity,
        fromHolderId: job.trayId,
        toHolderId: placeId,
        reason: 'put back from the tray',
      });
      transaction.send(insertRow, [movementId, input.id]);
    }
    transaction.news(`job:${job.id}`, 'jobs', 'today', 'stores');
  }
}

/** The claims go before the things do: what is not promised may lie anywhere. */
async function releaseClaims(
  transaction: Transaction,
  job: JobForScan,
  input: UnKit,
  thingId: string,
  reserved: Decimal,
): Promise<void> {
  const [claims, balances] = await Promise.all([claimsOn(transaction, thingId), whereIs(transaction, thingId)]);
  const inTray = sumDecimals(
    balances.filter(({ holderId }) => holderId === job.trayId).map(({ quantity }) => decimalFrom(quantity)),
  );
  const own = claims.filter(({ claimantId }) => claimantId === job.id);
  for (const { claimId, lineId, quantity, stays } of leavingClaims(own, inTray, goingOf(input, thingId), reserved)) {
    const less = subtractDecimals(quantity, stays);
    if (less > zero) claimLess(transaction, claimId, formatDecimal(less));
    if (stays > zero)
      logClaimChange(transaction, { on: { thingId }, jobId: job.id, lineId, quantity: formatDecimal(stays), kind: 'put back' });
    transaction.send(insertClaim, [newId(), input.id, thingId, lineId, formatDecimal(quantity), formatDecimal(stays)]);
  }
}

function goingOf({ rows }: UnKit, thingId: string): Decimal {
  return sumDecimals(rows.filter((row) => row.thingId === thingId).map(({ quantity }) => decimalFrom(quantity)));
}

function notSoMany(index: number, thing: { code: string; name: string } | null, lying: Decimal, going: Decimal): Refusal {
  const what = thing === null ? 'One of these' : `${thing.name}, ${spoken(thing.code)}`;
  return {
    status: 409,
    code: 'not-in-the-tray',
    title: 'Not in the tray',
    detail: `${what}: ${formatDecimal(lying)} lie in the tray by now, and ${formatDecimal(going)} were to go back. Somebody has fitted it or put it back meanwhile. Look at the list again. Nothing was changed.`,
    values: { row: index },
  };
}

function wordsOf({ title }: JobForScan, { rows, claims }: UnKit): string {
  const what = rows.length === 1 ? '1 row' : `${rows.length} rows`;
  const promised = claims === 'given up' ? 'what was promised is given up' : 'what had been reserved stays reserved';
  return `“${title}”: ${what} back in stores; ${promised}.`;
}
