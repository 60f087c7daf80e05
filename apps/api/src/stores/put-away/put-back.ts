import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { done, notFound, type Result, refused } from '../../platform/refusal.js';
import { locksOf, moveAll } from '../ledger.js';
import { codeOf, holderWords, thingFacts, thingName } from '../place-words.js';

/** The reasons of movements that are put back whole: all that one command moved. */
export const putAwayReasons: readonly string[] = ['put away', 'moved together'];

interface StepRow extends Record<string, unknown> {
  id: string;
  thingId: string;
  code: string;
  name: string;
  quantity: string;
  from: string;
  fromWords: string;
  to: string;
  isReversed: boolean;
  /** so many lie where they were put */
  isThere: boolean;
}

const stepsOf = `
  SELECT movements.id, movements.thing_id AS "thingId", ${codeOf('movements.thing_id')} AS code, ${thingName} AS name, trim_scale(movements.quantity)::text AS quantity,
         from_holder_id AS "from", ${holderWords('holders.id', 'holders.kind')} AS "fromWords", to_holder_id AS "to",
         EXISTS (SELECT FROM movements AS undone WHERE undone.reverses_id = movements.id) AS "isReversed",
         coalesce((SELECT balances.quantity FROM balances WHERE balances.thing_id = movements.thing_id AND holder_id = to_holder_id), 0)
           >= sum(movements.quantity) OVER (PARTITION BY movements.thing_id, to_holder_id) AS "isThere"
    FROM movements JOIN holders ON holders.id = from_holder_id JOIN things ON things.id = movements.thing_id ${thingFacts}
   WHERE movements.command_key = (SELECT command_key FROM movements AS one WHERE one.id = $1)
   ORDER BY movements.sequence`;

export interface PutBack {
  /** the movement back of the one that was named */
  actId: string;
  /** what was put back, a step for each place that it came from */
  steps: readonly { thingId: string; code: string; name: string; quantity: string; fromWords: string }[];
}

/**
 * Puts back what one command put away, all of it or nothing.
 * @param actId any of its movements
 */
export async function putBack(transaction: Transaction, actId: string, occurredAt: string | undefined): Promise<Result<PutBack>> {
  const first = await transaction.rows<StepRow>(stepsOf, [actId]);
  const things = [...new Set(first.map(({ thingId }) => thingId))].sort();
  const [, steps] = await Promise.all([locksOf(transaction, things), transaction.rows<StepRow>(stepsOf, [actId])]);
  if (steps.length === 0) return refused(notFound('This act'));
  const barred = whyNot(steps);
  if (barred !== null)
    return refused({
      status: 409,
      code: 'cannot-be-taken-back',
      title: 'Not to be taken back',
      detail: `${barred} Nothing was changed.`,
    });
  const back = steps.map(({ id, thingId, quantity, from, to }) => ({
    thingId,
    quantity,
    fromHolderId: to,
    toHolderId: from,
    reversesId: id,
  }));
  const ids = moveAll(transaction, back, { reason: 'taken back', occurredAt });
  transaction.news('today');
  return done({ actId: ids[steps.findIndex(({ id }) => id === actId)] ?? actId, steps });
}

const namedMax = 5;

function whyNot(steps: readonly StepRow[]): string | null {
  if (steps.some(({ isReversed }) => isReversed)) return 'This was taken back already.';
  const gone = steps.filter(({ isThere }) => !isThere);
  if (gone.length === 0) return null;
  const named = [...new Set(gone.map(({ code, name }) => `${name} (${code})`))];
  const more = named.length > namedMax ? ` and ${named.length - namedMax} more` : '';
  return `Some of it has been moved on since: ${named.slice(0, namedMax).join(', ')}${more}. Put away by hand what is to go back.`;
}
