import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import type { CountDifferences, DecideCountLine, DecideCountLines } from '@corewright/contracts/counting';
import { formatDecimal } from '@corewright/quantities/decimal';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { badInput, done, notFound, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { ClaimantNames } from '../../stores/later-names.js';
import type { LeavingClaim } from '../../stores/leaving-claims.js';
import { claimLess, countDifferenceId, locksOf, move } from '../../stores/ledger.js';
import { noLongerMissing } from '../../stores/not-there/found-again.js';
import { MarkNotThereHandler } from '../../stores/not-there/mark-not-there.handler.js';
import { tellOthers } from '../../stores/tell-others.js';
import { openClaims } from '../../stores/thing.queries.js';
import { Differences } from '../differences.js';
import { keyOf } from '../line.queries.js';
import { type Line, readLines } from '../lines.js';
import { type CountRow, lockOpenCount } from '../open-count.js';
import { decideLine, type LinePlan } from './decide-line.js';
import { inTrayOf, lockJobsOfTrays } from './in-tray.js';
import { writeDecision } from './write-decision.js';

const stillMissing = `
  SELECT 1 AS there FROM things WHERE id = $1 AND missing_since IS NOT NULL
     AND NOT EXISTS (SELECT FROM balances JOIN holders ON holders.id = holder_id WHERE thing_id = $1 AND holders.kind = 'place' AND quantity > 0)`;

/** What becomes of the differences of a count: all that was sent, or nothing. */
@Injectable()
export class DecideLinesHandler {
  constructor(
    private readonly claimants: ClaimantNames,
    private readonly missing: MarkNotThereHandler,
    private readonly differences: Differences,
  ) {}

  async handle(transaction: Transaction, countId: string, { lines }: DecideCountLines): Promise<Result<CountDifferences>> {
    if (new Set(lines.map(keyOf)).size !== lines.length)
      return refused(badInput('lines', 'A line stands there twice. Decide each once.'));
    const count = await lockOpenCount(transaction, countId, 'alone');
    if (!count.ok) return count;
    const jobs = await lockJobsOfTrays(transaction, lines);
    await locksOf(transaction, [...new Set(lines.map(({ thingId }) => thingId))].sort());
    for (const input of lines) {
      // read anew each time: what one line moves, another may have been short of
      const decided = await this.decideOne(transaction, { count: count.value, jobs }, input);
      if (!decided.ok) return decided;
    }
    transaction.news('counts', 'stores', 'today');
    return done(await this.differences.of(transaction, count.value));
  }

  private async decideOne(
    transaction: Transaction,
    { count, jobs }: { count: CountRow; jobs: ReadonlyMap<string, string> },
    input: DecideCountLine,
  ): Promise<Result<null>> {
    const line = (await readLines(transaction, count, input.thingId)).lines.find((each) => keyOf(each) === keyOf(input));
    if (line === undefined) return refused(notFound('This line of the count'));
    const inTray = await inTrayOf(transaction, jobs, line);
    const plan = decideLine({ line, input, claimants: await this.claimantsOf(transaction, line.thingId), inTray });
    if (!plan.ok) return refused(ofLine(plan.error, line));
    if (plan.value.kind === 'out' && inTray !== null) goOffJob(transaction, inTray.jobId, plan.value.leaving);
    return this.carryOut(transaction, { count, line, input, plan: plan.value });
  }

  private async claimantsOf(transaction: Transaction, thingId: string): Promise<string[]> {
    const claims = await openClaims(transaction, thingId);
    const names = await this.claimants.namesOf(
      transaction,
      claims.map(({ claimantId }) => claimantId),
    );
    return claims.map(({ claimantId, claimantCode }) =>
      [claimantCode === null ? '' : formatCode(claimantCode as LabelCode), names.get(claimantId) ?? '']
        .filter(Boolean)
        .join(', '),
    );
  }

  private async carryOut(
    transaction: Transaction,
    { count, line, input, plan }: { count: CountRow; line: Line; input: DecideCountLine; plan: LinePlan },
  ): Promise<Result<null>> {
    const { placeId, thingId } = line;
    if (plan.kind === 'missing') {
      const note = [`Count ${count.number}.`, input.why].filter((each) => each !== '').join(' ');
      const marked = await this.missing.handle(transaction, thingId, { placeId, note });
      if (!marked.ok) return refused(ofLine(marked.error, line));
    }
    const movementId = moveFor(transaction, { count, line, plan });
    await writeDecision(transaction, {
      id: newId(),
      countId: count.id,
      placeId,
      thingId,
      turn: line.turns + 1,
      decision: decisionOf(plan),
      counted: plan.taken === null ? null : formatDecimal(plan.taken.quantity),
      books: plan.taken === null ? null : formatDecimal(plan.taken.books),
      movementId,
      why: input.why,
    });
    if (movementId !== null) await tellOthers(transaction, thingId);
    if (plan.kind === 'out' && (await transaction.row(stillMissing, [thingId])) !== null)
      await noLongerMissing(transaction, thingId, `posted away in count ${count.number}.`);
    return done(null);
  }
}

/** The claims go before the things do. What lay in the tray was no reservation any more, so the log of those has nothing of it. */
function goOffJob(transaction: Transaction, jobId: string, leaving: readonly LeavingClaim[]): void {
  for (const { claimId, quantity } of leaving) claimLess(transaction, claimId, formatDecimal(quantity));
  transaction.news(`job:${jobId}`, 'jobs');
}

const decisions = { out: 'posted', in: 'posted', move: 'moved', missing: 'missing', again: 'again', left: 'left' } as const;

function decisionOf({ kind }: LinePlan): (typeof decisions)[LinePlan['kind']] {
  return decisions[kind];
}

/** The movement of a plan, which names the count as its reason; null where it moves nothing. */
function moveFor(
  transaction: Transaction,
  { count, line, plan }: { count: CountRow; line: Line; plan: LinePlan },
): string | null {
  const { placeId, thingId } = line;
  const named = `count ${count.number}`;
  switch (plan.kind) {
    case 'out':
      return move(transaction, {
        thingId,
        quantity: formatDecimal(plan.quantity),
        fromHolderId: placeId,
        toHolderId: countDifferenceId,
        reason: `${named}: fewer than the books had`,
      });
    case 'in':
      return move(transaction, {
        thingId,
        quantity: formatDecimal(plan.quantity),
        fromHolderId: countDifferenceId,
        toHolderId: placeId,
        reason: `${named}: more than the books had`,
      });
    case 'move':
      return move(transaction, {
        thingId,
        quantity: formatDecimal(plan.quantity),
        fromHolderId: plan.fromPlaceId,
        toHolderId: placeId,
        reason: `${named}: it lies here`,
      });
    default:
      return null;
  }
}

/** A refusal says of which line it is. */
function ofLine(refusal: Refusal, { thing, placeId, thingId }: Line): Refusal {
  return {
    ...refusal,
    title: `${formatCode(thing.code as LabelCode)}, ${thing.name}: ${refusal.title}`,
    values: { ...refusal.values, placeId, thingId },
  };
}
