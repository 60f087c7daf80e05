import type { JobScanDone } from '@corewright/contracts/bench';
import {
  addDecimals,
  type Decimal,
  decimalFrom,
  formatDecimal,
  lesserDecimal,
  subtractDecimals,
  sumDecimals,
  zero,
} from '@corewright/quantities/decimal';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import { WorkshopClock } from '../people/workshop.js';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import { newId } from '../platform/new-id.js';
import { done, invariant, notFound, type Result, refused } from '../platform/refusal.js';
import { readCode, whyNothingOpens } from '../scanning/resolve-code.js';
import { logClaimChange } from '../stores/claim-changes.js';
import { whyDatedBefore } from '../stores/dated-before.js';
import { takersOfSet } from '../stores/kept-sets/kept-set.queries.js';
import { claimLess, claimMore, claimsOn, countDifferenceId, lockOf, locksOf, move, whereIs } from '../stores/ledger.js';
import { foundAgain } from '../stores/not-there/found-again.js';
import { roomForOwn, roomOf } from './choose-line.js';
import { decideJobScan } from './decide-job-scan.js';
import { linesInstead } from './lines-instead.js';
import type { LockOrder } from './lock-order.js';
import { moveClaimsAside } from './move-claims-aside.js';
import { freedForBag, mayHaveSurplus, roomOfOwn } from './other-bag.js';
import { type IdleOwn, idleOwnClaims } from './scan-amount.js';
import { type LineForScan, linesForPart, lockJobForScan, type ScannedThing, thingOfCode } from './scan-facts.js';
import { refusalOfStop } from './scan-refusal.js';
import type { JobScanInput, ScanMode, ScanPlan, ScanState, ScanStop } from './scan-state.js';
import { UsesAtBench } from './uses-at-bench.js';

type Done = z.infer<typeof JobScanDone>;

const insertFitting = `
  INSERT INTO fittings (id, command_key, job_line_id, thing_id, movement_id, quantity, reused, in_place_of, why, evidence, override_reason, person_id)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)`;
const insertFlag = 'INSERT INTO stores_flags (id, thing_id, kind, words, person_id) VALUES ($1, $2, $3, $4, $5)';
const nextFurtherLine = `
  INSERT INTO job_lines (id, job_id, line_no, part_id, quantity, operation_id, critical, further)
  SELECT $1, $2, (SELECT coalesce(max(line_no), 0) + 1 FROM job_lines WHERE job_id = $2), $3, $4, job_operations.id, $6, true
    FROM job_operations WHERE job_operations.id = $5 AND job_id = $2 RETURNING line_no AS "lineNo"`;

/** How a scan goes on. */
interface WayOn {
  order: LockOrder | undefined;
  /** what else came of it */
  words: string[];
  /** the line was full of what the job had reserved of other bags */
  isOtherBag: boolean;
}

/** Scans a thing onto a job: into its tray (pick) or into its unit (fit). */
@Injectable()
export class JobScanHandler {
  constructor(
    private readonly clock: WorkshopClock,
    private readonly uses: UsesAtBench,
  ) {}

  /** @param order what is to be locked with the scanned thing; without one, what comes of the scan is locked as it comes, by whoever is alone */
  async handle(transaction: Transaction, mode: ScanMode, input: JobScanInput, order?: LockOrder): Promise<Result<Done>> {
    const read = readCode(input.code, ['L', 'C', 'U', 'X']);
    if (!read.ok) return read;
    const [thing, job] = await Promise.all([thingOfCode(transaction, read.value.code), lockJobForScan(transaction, input.jobId)]);
    if (!thing) return refused(await whyNothingOpens(transaction, read.value));
    if (!job) return refused(notFound('This job'));
    const dated = await whyDatedBefore(transaction, read.value.code, input.occurredAt);
    if (dated !== null) return refused(dated);
    if (isOfConsumable(thing)) return this.uses.use(transaction, { mode, input, thing, job });
    // The lock goes out first: what is sent after it is read when it is held.
    const [locked, linesNow, balances, claims, today] = await Promise.all([
      lockWith(transaction, thing.id, order),
      linesForPart(transaction, job.id, thing.partId, input.inPlaceOf?.lineId ?? input.lineId ?? null),
      whereIs(transaction, thing.id),
      claimsOn(transaction, thing.id),
      this.clock.today(transaction),
    ]);
    invariant(locked, 'a thing with a live code is there');
    const lines = reservedFirst(roomForOwn(linesNow, thing, job), mode, idleOwnClaims({ claims, balances, job }));
    const instead = needsInstead(thing, lines, mode, input) ? await linesInstead(transaction, job.id, thing.partId) : [];
    const takers = thing.keptSetId === null ? [] : await takersOfSet(transaction, thing.keptSetId);
    const setTakenBy = takers.filter((taker) => taker !== job.id);
    const state: ScanState = { mode, input, thing, locked, balances, claims, job, lines, instead, setTakenBy, today };
    const decision = decideJobScan(state);
    if (decision.ok) return this.write(transaction, state, decision.value, { order, words: [], isOtherBag: false });
    const otherwise = await this.goOn(transaction, state, decision.error, order);
    return otherwise ?? refused(await refusalOfStop(transaction, state, decision.error));
  }

  /** Stopped by reservations: the job's own of other bags, or another's that equal stock can serve. Null where that does not help. */
  private async goOn(
    transaction: Transaction,
    state: ScanState,
    stopped: ScanStop,
    order: LockOrder | undefined,
  ): Promise<Result<Done> | null> {
    const own = await roomOfOwn(transaction, state, stopped);
    const withRoom = own ?? state;
    const decision = own === null ? ({ ok: false, error: stopped } as const) : decideJobScan(own);
    const isOtherBag = own !== null;
    if (decision.ok) return this.write(transaction, withRoom, decision.value, { order, words: [], isOtherBag });
    const aside = await moveClaimsAside(transaction, withRoom, decision.error, order);
    if (aside === null) return null;
    const again = decideJobScan(aside.state);
    return again.ok ? this.write(transaction, aside.state, again.value, { order, words: [aside.words], isOtherBag }) : null;
  }

  private async write(
    transaction: Transaction,
    state: ScanState,
    plan: ScanPlan,
    { order, words, isOtherBag }: WayOn,
  ): Promise<Result<Done>> {
    const { job, thing, mode, input } = state;
    const line = plan.line === 'further' ? await makeFurtherLine(transaction, state, plan) : plan.line;
    if (line === undefined)
      return refused({
        status: 422,
        code: 'bad-input',
        title: 'No such operation',
        detail: 'That operation is not one of this job. Choose one of its operations.',
      });
    for (const claim of plan.claimsLess) claimLess(transaction, claim.claimId, formatDecimal(claim.quantity));
    if (plan.found > zero) this.bookFound(transaction, state, plan.found);
    const target = mode === 'pick' ? job.trayId : job.unitId;
    const reason = mode === 'pick' ? 'picked' : 'fitted';
    const moves =
      plan.found > zero && mode === 'fit' ? [...plan.moves, { fromHolderId: job.trayId, quantity: plan.found }] : plan.moves;
    let actId: string | null = null;
    let fittingId: string | null = null;
    for (const step of moves) {
      actId = move(transaction, {
        thingId: thing.id,
        quantity: formatDecimal(step.quantity),
        fromHolderId: step.fromHolderId,
        toHolderId: target,
        reason,
        occurredAt: input.occurredAt,
      });
      if (mode === 'fit' && line)
        fittingId = writeFitting(transaction, {
          line,
          thingId: thing.id,
          movementId: actId,
          quantity: step.quantity,
          plan,
        });
    }
    if (moves.some(({ fromHolderId }) => fromHolderId !== job.trayId)) {
      const again = await foundAgain(transaction, state.locked, `${reason} on a job`);
      if (again !== null) words.push(again);
    }
    if (plan.claimMore > zero) claimMore(transaction, thing.id, job.id, line?.id ?? null, formatDecimal(plan.claimMore));
    if (plan.outOfReserved > zero)
      logClaimChange(transaction, {
        on: { thingId: thing.id },
        jobId: job.id,
        lineId: line?.id ?? null,
        quantity: `-${formatDecimal(plan.outOfReserved)}`,
        kind: reason,
      });
    if (line && (isOtherBag || mayHaveSurplus(line, plan, state)))
      words.push(...(await freedForBag(transaction, state, line, order)));
    transaction.news(`job:${job.id}`, 'jobs', 'today');
    return done({
      actId: actId ?? transaction.command.key,
      fittingId,
      act: mode === 'pick' ? 'picked' : plan.reused ? 're-used' : 'fitted',
      thing: { id: thing.id, code: thing.code, name: thing.name },
      quantity: formatDecimal(plan.quantity),
      line: line && progressOf(line, mode, plan.quantity),
      found: plan.found > zero,
      notice: words.length === 0 ? null : words.join(' '),
      at: new Date().toISOString(),
    });
  }

  /** The books denied it and a hand holds it: it is found into the tray, and stores are asked to look. */
  private bookFound(transaction: Transaction, state: ScanState, quantity: Decimal): void {
    const { thing, job, input, mode } = state;
    const amount = formatDecimal(quantity);
    move(transaction, {
      thingId: thing.id,
      quantity: amount,
      fromHolderId: countDifferenceId,
      toHolderId: job.trayId,
      reason: 'found in hand',
      occurredAt: input.occurredAt,
    });
    const words = `${amount} found in hand and ${mode === 'pick' ? 'picked' : 'fitted'} on a job, where the books held none.`;
    transaction.send(insertFlag, [newId(), thing.id, 'found in hand', words, transaction.command.person.id]);
  }
}

function isOfConsumable(thing: ScannedThing): thing is ScannedThing & { partId: string } {
  return thing.isConsumable && thing.kind === 'L';
}

async function lockWith(transaction: Transaction, thingId: string, order: LockOrder | undefined) {
  const ids = order?.with(thingId) ?? [thingId];
  if (ids.length === 1) return lockOf(transaction, thingId);
  return (await locksOf(transaction, ids)).find(({ id }) => id === thingId) ?? null;
}

/** What the job has reserved of the very thing in hand leaves the line room to pick it, and such a line comes before others. */
function reservedFirst(lines: readonly LineForScan[], mode: ScanMode, idle: readonly IdleOwn[]): readonly LineForScan[] {
  const reserved = (line: LineForScan) => sumDecimals(idle.filter(({ lineId }) => lineId === line.id).map((claim) => claim.idle));
  if (mode === 'fit' || idle.length === 0) return lines;
  return lines
    .map((line) => ({ ...line, picked: formatDecimal(subtractDecimals(decimalFrom(line.picked), reserved(line))) }))
    .toSorted((a, b) => Number(reserved(b) > zero) - Number(reserved(a) > zero));
}

/** A line as it was before the scan, as far as writing about it needs. */
type LineServed = Pick<LineForScan, 'id' | 'lineNo' | 'name' | 'needed' | 'fitted' | 'reused' | 'picked'>;

/** Most parts have a line of their own with room: what else they might serve is looked up only for the others. */
function needsInstead(
  thing: ScannedThing,
  lines: readonly LineForScan[],
  mode: ScanMode,
  { lineId, inPlaceOf, furtherLine }: JobScanInput,
): thing is ScannedThing & { partId: string } {
  if (thing.partId === null || inPlaceOf || furtherLine) return false;
  const own = lines.filter((line) => line.partId === thing.partId);
  if (lineId !== undefined) return !own.some((line) => line.id === lineId);
  return !own.some((line) => !line.waived && roomOf(line, mode) > zero);
}

interface FittingToWrite {
  line: LineServed;
  thingId: string;
  movementId: string;
  quantity: Decimal;
  plan: ScanPlan;
}

function writeFitting(transaction: Transaction, { line, thingId, movementId, quantity, plan }: FittingToWrite): string {
  const id = newId();
  const { key, person } = transaction.command;
  const place = plan.inPlaceOf;
  transaction.send(insertFitting, [
    id,
    key,
    line.id,
    thingId,
    movementId,
    formatDecimal(quantity),
    plan.reused,
    place !== null,
    place?.why ?? null,
    place?.evidence ?? null,
    plan.overrideReason,
    person.id,
  ]);
  return id;
}

async function makeFurtherLine(
  transaction: Transaction,
  { job, thing, input }: ScanState,
  plan: ScanPlan,
): Promise<LineServed | undefined> {
  const further = input.furtherLine;
  invariant(further && thing.partId, 'a further line has an operation and a part');
  const id = newId();
  const needed = formatDecimal(plan.quantity);
  const row = await transaction.row<{ lineNo: number }>(nextFurtherLine, [
    id,
    job.id,
    thing.partId,
    needed,
    further.operationId,
    further.critical,
  ]);
  if (!row) return undefined;
  return {
    id,
    lineNo: row.lineNo,
    name: thing.name,
    needed,
    fitted: '0',
    reused: '0',
    picked: '0',
  };
}

function progressOf(line: LineServed, mode: ScanMode, quantity: Decimal): NonNullable<Done['line']> {
  const fitted = addDecimals(decimalFrom(line.fitted), mode === 'fit' ? quantity : zero);
  const picked =
    mode === 'pick'
      ? addDecimals(decimalFrom(line.picked), quantity)
      : subtractDecimals(decimalFrom(line.picked), lesserDecimal(decimalFrom(line.picked), quantity));
  return {
    id: line.id,
    lineNo: line.lineNo,
    name: line.name,
    needed: text(line.needed),
    fitted: formatDecimal(fitted),
    reused: text(line.reused),
    picked: formatDecimal(picked),
    stillToCome: formatDecimal(subtractDecimals(roomOf(line, mode), quantity)),
  };
}

function text(quantity: string): string {
  return formatDecimal(decimalFrom(quantity));
}
