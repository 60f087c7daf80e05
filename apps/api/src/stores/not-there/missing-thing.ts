import type { Thing } from '@corewright/contracts/stores';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { notFound, type Result, refused } from '../../platform/refusal.js';
import { type LockedThing, lockOf } from '../ledger.js';
import { holdingsOf } from '../thing.queries.js';
import { isPlace } from './decide-not-there.js';

export interface MissingThing {
  thing: LockedThing;
  /** where the books have it in stores */
  inPlaces: readonly Thing['holdings'][number][];
}

/** Locks what is marked missing; refused where it is not. */
export async function lockMissing(transaction: Transaction, thingId: string): Promise<Result<MissingThing>> {
  const [thing, holdings] = await Promise.all([lockOf(transaction, thingId), holdingsOf(transaction, thingId)]);
  if (thing === null) return refused(notFound('That thing'));
  if (thing.missingSince === null)
    return refused({
      status: 409,
      code: 'not-missing',
      title: 'Not missing',
      detail: 'It is not marked missing: somebody has found it meanwhile. Nothing was changed.',
    });
  return { ok: true, value: { thing, inPlaces: holdings.filter(isPlace) } };
}
