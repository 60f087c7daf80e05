import type { UnKitDone } from '@corewright/contracts/un-kit';
import {
  addDecimals,
  type Decimal,
  decimalFrom,
  formatDecimal,
  lesserDecimal,
  notBelowZero,
  subtractDecimals,
  sumDecimals,
  zero,
} from '@corewright/quantities/decimal';
import { Injectable } from '@nestjs/common';
import { type JobForScan, lockJobForScan } from '../../bench/scan-facts.js';
import { idleClaimsOf } from '../../jobs/idle-claims.js';
import { spoken } from '../../jobs/job.queries.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, notFound, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { logClaimChange } from '../../stores/claim-changes.js';
import { claimMore, locksOf, move, whereIs } from '../../stores/ledger.js';
import { codeOf } from '../../stores/place-words.js';

interface MovedBack extends Record<string, unknown> {
  movementId: string;
  thingId: string;
  code: string;
  quantity: string;
  placeId: string;
}
interface ClaimLeft extends Record<string, unknown> {
  thingId: string;
  lineId: string | null;
  quantity: string;
  stays: string;
}

const selectUnKit = `
  SELECT job_id AS "jobId", undoes_id AS "undoesId", claims,
         EXISTS (SELECT FROM un_kits AS later WHERE later.undoes_id = un_kits.id) AS "isUndone" FROM un_kits WHERE id = $1`;
const selectRows = `
  SELECT movements.id AS "movementId", thing_id AS "thingId", ${codeOf('thing_id')} AS code, trim_scale(quantity)::text AS quantity, to_holder_id AS "placeId"
    FROM un_kit_rows JOIN movements ON movements.id = movement_id WHERE un_kit_id = $1 ORDER BY sequence`;
const selectClaims = `
  SELECT thing_id AS "thingId", job_line_id AS "lineId", quantity, stays FROM un_kit_claims WHERE un_kit_id = $1 ORDER BY id`;
const insertUndoing = `
  INSERT INTO un_kits (id, command_key, job_id, claims, undoes_id, person_id) VALUES ($1, $2, $3, $4, $5, $6)`;
const insertRow = 'INSERT INTO un_kit_rows (movement_id, un_kit_id) VALUES ($1, $2)';

interface UnKitRow extends Record<string, unknown> {
  jobId: string;
  undoesId: string | null;
  claims: string;
  isUndone: boolean;
}

/** What went back from a tray by one act is in it again by one: all of it, promised as it was, or nothing. */
@Injectable()
export class UndoUnKitHandler {
  async handle(transaction: Transaction, unKitId: string, id: string): Promise<Result<UnKitDone>> {
    const first = await transaction.row<UnKitRow>(selectUnKit, [unKitId]);
    if (first === null || first.undoesId !== null) return refused(notFound('This putting back'));
    const job = await lockJobForScan(transaction, first.jobId);
    if (job === null) return refused(notFound('This job'));
    const rows = await transaction.rows<MovedBack>(selectRows, [unKitId]);
    const thingIds = [...new Set(rows.map(({ thingId }) => thingId))].toSorted();
    const locked = await locksOf(transaction, thingIds);
    const current = await transaction.row<UnKitRow>(selectUnKit, [unKitId]);
    if (current?.isUndone !== false) return refused(undoneAlready);
    if (await transaction.row(selectUnKit, [id])) return refused(badInput('id', 'This was undone already.'));
    const gone = await whatIsGone(transaction, rows);
    if (gone !== null) return refused(gone);
    const claims = await transaction.rows<ClaimLeft>(selectClaims, [unKitId]);
    const again = await claimsAgain(transaction, job, claims);
    for (const { id: thingId, held, awaited, claimed } of locked) {
      const free = notBelowZero(subtractDecimals(addDecimals(decimalFrom(held), decimalFrom(awaited)), decimalFrom(claimed)));
      const wanted = sumDecimals(again.filter((each) => each.thingId === thingId).map(({ more }) => more));
      if (wanted > free) return refused(promisedElsewhere(rows.find((row) => row.thingId === thingId)));
    }
    transaction.send(insertUndoing, [id, transaction.command.key, job.id, first.claims, unKitId, transaction.command.person.id]);
    write(transaction, job, rows, again, id);
    return done({ id, jobId: job.id, words: `“${job.title}”: all of it is in the tray again.` });
  }
}

async function whatIsGone(transaction: Transaction, rows: readonly MovedBack[]): Promise<Refusal | null> {
  for (const { thingId, placeId, code } of rows) {
    const balances = await whereIs(transaction, thingId);
    const there = balances.find(({ holderId }) => holderId === placeId)?.quantity ?? '0';
    const wanted = sumDecimals(
      rows.filter((row) => row.thingId === thingId && row.placeId === placeId).map(({ quantity }) => decimalFrom(quantity)),
    );
    if (wanted > decimalFrom(there))
      return {
        status: 409,
        code: 'moved-since',
        title: 'It went on meanwhile',
        detail: `${spoken(code)} does not lie any more where it was put back. Fetch again what is still there: scan it in the mode “pick”. Nothing was changed.`,
      };
  }
  return null;
}

interface ClaimAgain {
  thingId: string;
  lineId: string | null;
  /** claimed anew */
  more: Decimal;
  /** reserved all the while, and in the tray again */
  outOfReserved: Decimal;
}

async function claimsAgain(transaction: Transaction, job: JobForScan, claims: readonly ClaimLeft[]): Promise<ClaimAgain[]> {
  const idle = new Map<string, Decimal>();
  for (const { thingId, lineId, idle: quantity } of await idleClaimsOf(transaction, job.id)) {
    const key = `${thingId} ${lineId}`;
    idle.set(key, addDecimals(idle.get(key) ?? zero, decimalFrom(quantity)));
  }
  return claims.map(({ thingId, lineId, quantity, stays }) => {
    const key = `${thingId} ${lineId}`;
    const outOfReserved = lesserDecimal(decimalFrom(stays), idle.get(key) ?? zero);
    idle.set(key, subtractDecimals(idle.get(key) ?? zero, outOfReserved));
    return { thingId, lineId, outOfReserved, more: subtractDecimals(decimalFrom(quantity), outOfReserved) };
  });
}

function write(
  transaction: Transaction,
  job: JobForScan,
  rows: readonly MovedBack[],
  again: readonly ClaimAgain[],
  undoingId: string,
): void {
  for (const { movementId, thingId, quantity, placeId } of rows) {
    const undoneBy = move(transaction, {
      thingId,
      quantity,
      fromHolderId: placeId,
      toHolderId: job.trayId,
      reason: 'in the tray again',
      reversesId: movementId,
    });
    transaction.send(insertRow, [undoneBy, undoingId]);
  }
  for (const { thingId, lineId, more, outOfReserved } of again) {
    if (more > zero) claimMore(transaction, thingId, job.id, lineId, formatDecimal(more));
    if (outOfReserved > zero) {
      const quantity = `-${formatDecimal(outOfReserved)}`;
      logClaimChange(transaction, { on: { thingId }, jobId: job.id, lineId, quantity, kind: 'picked' });
    }
  }
  transaction.news(`job:${job.id}`, 'jobs', 'today', 'stores');
}

const undoneAlready: Refusal = {
  status: 409,
  code: 'undone-already',
  title: 'Undone already',
  detail: 'Somebody has undone this already: it lies in the tray again. Nothing was changed.',
};

function promisedElsewhere(row: MovedBack | undefined): Refusal {
  return {
    status: 409,
    code: 'claimed-for-another-job',
    title: 'Promised elsewhere',
    detail: `${row === undefined ? 'Some of it' : spoken(row.code)} was promised to another job meanwhile. Fetch again what is still free: scan it in the mode “pick”. Nothing was changed.`,
  };
}
