import type { Transaction } from '../../platform/commands/unit-of-work.js';
import type { Refusal } from '../../platform/refusal.js';
import { stopped } from '../row-state.js';

/** As long as somebody may look at a photograph before the next person gets it. */
const minutesKept = 5;

const others = `
  SELECT display_name AS name FROM opening_desk JOIN people ON people.id = person_id WHERE thing_id = $1 AND person_id <> $2 AND until > now()`;
const claim = `
  INSERT INTO opening_desk (thing_id, person_id, until) VALUES ($1, $2, now() + interval '${minutesKept} minutes')
  ON CONFLICT (thing_id) DO UPDATE SET person_id = EXCLUDED.person_id, until = EXCLUDED.until`;
const release = 'DELETE FROM opening_desk WHERE thing_id = $1';
const leaveOthersOf = 'UPDATE opening_desk SET until = now() WHERE person_id = $1 AND thing_id <> $2 AND until > now()';

/** Why this person does not work on a row just now: another has it in hand. The thing is locked. */
export async function whyWithAnother(transaction: Transaction, rowId: string): Promise<Refusal | null> {
  const other = await transaction.row<{ name: string }>(others, [rowId, transaction.command.person.id]);
  if (other === null) return null;
  return stopped(
    'with-another',
    'Somebody else has it',
    `${other.name} has it in hand at the desk. Take the next one; it comes back if they leave it.`,
  );
}

/** Takes a row in hand, and leaves whichever this person had. */
export async function takeInHand(transaction: Transaction, rowId: string): Promise<void> {
  const personId = transaction.command.person.id;
  await transaction.rows(leaveOthersOf, [personId, rowId]);
  await transaction.rows(claim, [rowId, personId]);
}

export async function leave(transaction: Transaction, rowId: string): Promise<void> {
  await transaction.rows(release, [rowId]);
}
