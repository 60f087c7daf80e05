import type { KeptKind } from '@corewright/contracts/goods-apart';
import type { Transaction } from '../../platform/commands/unit-of-work.js';

export interface KeptToWrite {
  id: string;
  thingId: string;
  kind: KeptKind;
  words: string;
  foundWhere: string;
  foundBy: string;
  since: string;
  askWhom: string;
  lookAgainOn: string;
  holds: boolean;
}

const insert = `
  INSERT INTO kept_for_owners (id, command_key, thing_id, kind, words, found_where, found_by, since, ask_whom, look_again_on, holds, person_id)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)`;
const isThere = 'SELECT 1 AS there FROM kept_for_owners WHERE id = $1';

export async function isKeptIdUsed(transaction: Transaction, id: string): Promise<boolean> {
  return (await transaction.row(isThere, [id])) !== null;
}

/** Puts on the record that a thing is kept; the database marks the thing with it, so that no job is given any of it. */
export async function writeKept(transaction: Transaction, kept: KeptToWrite): Promise<void> {
  const { key, person } = transaction.command;
  const { id, thingId, kind, words, foundWhere, foundBy, since, askWhom, lookAgainOn, holds } = kept;
  await transaction.rows(insert, [
    id,
    key,
    thingId,
    kind,
    words,
    foundWhere,
    foundBy,
    since,
    askWhom,
    lookAgainOn,
    holds,
    person.id,
  ]);
  transaction.news(`thing:${thingId}`, 'stores', 'today', 'kept-for-owners');
}

/** Why a thing is held back while it is kept. */
export function reasonOfKeeping(kind: KeptKind, words: string): string {
  return kind === 'found property'
    ? `found property: ${words}`.slice(0, 200)
    : `kept for its owner, ${kind}: ${words}`.slice(0, 200);
}
