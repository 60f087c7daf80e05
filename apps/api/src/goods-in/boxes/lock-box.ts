import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { whyOfNoUse } from '../../stores/goods-apart/why-barred.js';
import { type Balance, type LockedThing, lockOf, whereIs } from '../../stores/ledger.js';
import { codeOf, saidEmpty } from '../../stores/place-words.js';
import type { BoxState } from './decide-taking.js';

export interface LockedBox {
  thing: LockedThing;
  state: BoxState;
  /** where it lies with us; null where it does not */
  lies: Balance | null;
}

const selectBox = `
  SELECT ${codeOf('thing_id')} AS code, ${saidEmpty('boxes.thing_id')} AS "saidEmpty", piece_count AS "pieceCount",
         (piece_count - pieces_named_of(thing_id))::integer AS "piecesLeft",
         (SELECT count(*)::integer FROM box_takings AS named WHERE box_id = boxes.thing_id AND kind = 'named'
             AND NOT EXISTS (SELECT FROM box_takings AS later WHERE later.undoes_id = named.id)) AS taken
    FROM unsorted_boxes AS boxes WHERE thing_id = $1`;

type BoxRow = Pick<BoxState, 'code' | 'saidEmpty' | 'pieceCount' | 'piecesLeft' | 'taken'> & Record<string, unknown>;

/** Locks a box: whoever takes something out of it does so after the other. */
export async function lockBox(transaction: Transaction, boxId: string): Promise<Result<LockedBox>> {
  const thing = await lockOf(transaction, boxId);
  if (thing?.kind !== 'X') return refused(notFound('That box'));
  const barred = whyOfNoUse(thing);
  if (barred !== null) return refused(barred);
  const [row, balances] = await Promise.all([transaction.row<BoxRow>(selectBox, [boxId]), whereIs(transaction, boxId)]);
  invariant(row, 'a box that is locked is in the books');
  const lies = balances.find((balance) => balance.counts && !balance.quantity.startsWith('-')) ?? null;
  return { ok: true, value: { thing, lies, state: { ...row, isHere: lies !== null, heldBackReason: thing.heldBackReason } } };
}
