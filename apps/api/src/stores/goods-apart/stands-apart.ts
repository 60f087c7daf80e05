import type { CondemnationShown, OwnerChangeShown, StandsApart } from '@corewright/contracts/goods-apart';
import { formatMoney, type Money } from '@corewright/quantities/money';
import type { Reader } from '../../platform/database/database.js';
import { keptOfThing } from '../kept-for-owners/kept.queries.js';
import { holdOf, quarantinePlacesOf } from './holds.queries.js';

const selectChanges = `
  SELECT hold_changes.id, recorded_at AS at, coalesce(people.display_name, '') AS by, held_back AS held, reason,
         coalesce(lifters.display_name, '') AS "mayLift", look_again_on AS "lookAgainOn"
    FROM hold_changes LEFT JOIN people ON people.id = person_id LEFT JOIN people AS lifters ON lifters.id = lifter_id
   WHERE thing_id = $1 ORDER BY recorded_at DESC, hold_changes.id DESC LIMIT 100`;
const selectCondemnation = `
  SELECT coalesce(condemnations.reason, '') AS reason, coalesce(people.display_name, '') AS by, recorded_at AS at, coalesce(no_picture, '') AS "noPicture"
    FROM things LEFT JOIN condemnations ON condemnations.thing_id = things.id LEFT JOIN people ON people.id = condemnations.person_id
   WHERE things.id = $1 AND condemned`;
const selectDisposals = `
  SELECT condemned_disposals.id, how, words, owners_word AS "ownersWord", coalesce(people.display_name, '') AS by, recorded_at AS at
    FROM condemned_disposals LEFT JOIN people ON people.id = person_id WHERE thing_id = $1 ORDER BY recorded_at DESC, condemned_disposals.id DESC`;
const selectOwnerChanges = `
  SELECT owner_changes.id, how, coalesce(before.name, 'ours') AS from, coalesce(after.name, 'ours') AS to, price_minor::text AS price, currency,
         on_day AS on, words, coalesce(people.display_name, '') AS by, recorded_at AS at
    FROM owner_changes LEFT JOIN parties AS before ON before.id = from_owner_id LEFT JOIN parties AS after ON after.id = to_owner_id
    LEFT JOIN people ON people.id = person_id
   WHERE thing_id = $1 ORDER BY sequence DESC`;
const inQuarantine = `
  SELECT 1 AS there FROM balances JOIN places ON places.holder_id = balances.holder_id WHERE thing_id = $1 AND quantity > 0 AND places.kind = 'quarantine' LIMIT 1`;

type Rows<Row> = Row & Record<string, unknown>;

/** All that sets a thing apart from stock, with how it came to that. */
export async function standsApart(reader: Reader, thingId: string, today: string): Promise<StandsApart> {
  const [heldBack, holdChanges, condemnation, ownerChanges, kept, quarantinePlaces, quarantine] = await Promise.all([
    holdOf(reader, thingId),
    reader.rows<Rows<StandsApart['holdChanges'][number]>>(selectChanges, [thingId]),
    condemnationOf(reader, thingId),
    reader.rows<Rows<OwnerChangeShown>>(selectOwnerChanges, [thingId]),
    keptOfThing(reader, thingId, today),
    quarantinePlacesOf(reader),
    reader.row(inQuarantine, [thingId]),
  ]);
  return {
    heldBack,
    holdChanges,
    condemnation,
    ownerChanges: ownerChanges.map((row) => ({
      ...row,
      price: row.price === null || row.currency === null ? null : formatMoney(BigInt(row.price) as Money, row.currency),
    })),
    kept,
    quarantinePlaces,
    inQuarantine: quarantine !== null,
  };
}

async function condemnationOf(reader: Reader, thingId: string): Promise<CondemnationShown | null> {
  const row = await reader.row<Rows<Omit<CondemnationShown, 'disposals'>>>(selectCondemnation, [thingId]);
  if (row === null) return null;
  const disposals = await reader.rows<Rows<CondemnationShown['disposals'][number]>>(selectDisposals, [thingId]);
  return { ...row, disposals };
}
