import type { CondemnedThing, HeldThing, Holds } from '@corewright/contracts/goods-apart';
import { daysBetween } from '@corewright/quantities/plain-date';
import type { Reader } from '../../platform/database/database.js';
import { codeOf, holderWords, thingFacts, thingName } from '../place-words.js';

const shownMax = 1000;

const common = `
  things.id, ${codeOf('things.id')} AS code, ${thingName} AS name,
  CASE things.kind WHEN 'U' THEN 'unit' WHEN 'L' THEN 'lot' WHEN 'C' THEN 'component' ELSE 'unsorted' END AS kind,
  trim_scale(held + awaited)::text AS quantity,
  coalesce((SELECT string_agg(${holderWords('holders.id', 'holders.kind')}, '; ' ORDER BY quantity DESC, holders.id)
    FROM balances JOIN holders ON holders.id = holder_id WHERE thing_id = things.id AND quantity > 0), '') AS where,
  EXISTS (SELECT FROM balances JOIN places ON places.holder_id = balances.holder_id
           WHERE thing_id = things.id AND quantity > 0 AND places.kind = 'quarantine') AS "inQuarantine",
  CASE WHEN owner_id IS NOT NULL THEN jsonb_build_object('id', owners.id, 'name', owners.name) END AS owner,
  (SELECT count(*)::integer FROM pictures WHERE subject_id = things.id AND NOT EXISTS (SELECT FROM picture_strikes WHERE picture_id = pictures.id)) AS pictures`;
const from = `FROM things ${thingFacts} LEFT JOIN parties AS owners ON owners.id = owner_id`;

/** SQL: who may lift the hold of a thing, and who stands in for somebody who has left. Needs `lifters` joined to things. */
const mayLiftColumns = `
  CASE WHEN lifters.id IS NOT NULL THEN jsonb_build_object('id', lifters.id, 'name', lifters.display_name) END AS "mayLift",
  CASE WHEN lifters.id IS NULL THEN 'whoever keeps the books'
       WHEN lifters.active THEN lifters.display_name
       ELSE 'an owner, for ' || lifters.display_name || ' is no longer here' END AS "mayLiftWords"`;
const holdColumns = `
  held_back_reason AS reason, coalesce(holding.display_name, '') AS by, coalesce(held_back_since, things.created_at) AS since,
  hold_look_again_on AS "lookAgainOn", ${mayLiftColumns}`;
const holdFrom = `
  LEFT JOIN people AS holding ON holding.id = held_back_by LEFT JOIN people AS lifters ON lifters.id = hold_lifter_id`;

const selectHeld = `
  SELECT ${common}, ${holdColumns}, kept_for_owner AS "keptForOwner", trim_scale(claimed)::text AS claimed,
         (coalesce(held_back_since, things.created_at) AT TIME ZONE coalesce((SELECT time_zone FROM workshop), 'UTC'))::date AS "sinceDay"
    ${from} ${holdFrom}
   WHERE held_back_reason IS NOT NULL AND NOT condemned AND held + awaited > 0
   ORDER BY coalesce(held_back_since, things.created_at), things.id LIMIT ${shownMax}`;
const selectUnheld = `
  SELECT ${common} ${from}
   WHERE held_back_reason IS NULL AND NOT condemned AND things.id IN (
     SELECT thing_id FROM balances JOIN places ON places.holder_id = balances.holder_id WHERE places.kind = 'quarantine' AND quantity > 0)
   ORDER BY things.id LIMIT ${shownMax}`;
const selectCondemned = `
  SELECT ${common}, coalesce(condemnations.reason, '') AS reason, coalesce(condemners.display_name, '') AS by,
         coalesce(condemnations.recorded_at, things.created_at) AS at,
         (SELECT how FROM condemned_disposals WHERE condemned_disposals.thing_id = things.id ORDER BY condemned_disposals.recorded_at DESC, condemned_disposals.id DESC LIMIT 1) AS "keptAs"
    ${from} LEFT JOIN condemnations ON condemnations.thing_id = things.id LEFT JOIN people AS condemners ON condemners.id = condemnations.person_id
   WHERE condemned AND held + awaited > 0 ORDER BY at, things.id LIMIT ${shownMax}`;
const selectLifters = "SELECT id, display_name AS name FROM people WHERE active AND role <> 'viewer' ORDER BY display_name, id";
const selectQuarantine =
  'SELECT holder_id AS id, path AS name FROM places WHERE kind = \'quarantine\' ORDER BY path COLLATE "C", holder_id';

type HeldRow = Omit<HeldThing, 'heldBack' | 'days' | 'isDue'> &
  HeldThing['heldBack'] & { sinceDay: string } & Record<string, unknown>;

/** What is held back, longest first; what lies in quarantine unheld; what is condemned and still here. */
export async function holdsOn(reader: Reader, today: string): Promise<Holds> {
  const [held, unheld, condemned, lifters, quarantinePlaces] = await Promise.all([
    reader.rows<HeldRow>(selectHeld),
    reader.rows<Holds['unheld'][number] & Record<string, unknown>>(selectUnheld),
    reader.rows<CondemnedThing & Record<string, unknown>>(selectCondemned),
    reader.rows<Holds['lifters'][number] & Record<string, unknown>>(selectLifters),
    quarantinePlacesOf(reader),
  ]);
  return { today, held: held.map((row) => heldShown(row, today)), unheld, condemned, lifters, quarantinePlaces };
}

export function quarantinePlacesOf(reader: Reader): Promise<Holds['quarantinePlaces']> {
  return reader.rows<Holds['quarantinePlaces'][number] & Record<string, unknown>>(selectQuarantine);
}

function heldShown(row: HeldRow, today: string): HeldThing {
  const { reason, by, since, mayLift, mayLiftWords, lookAgainOn, sinceDay, ...thing } = row;
  return {
    ...thing,
    heldBack: { reason, by, since, mayLift, mayLiftWords, lookAgainOn },
    days: Math.max(0, daysBetween(sinceDay, today)),
    isDue: lookAgainOn !== null && lookAgainOn <= today,
  };
}

const selectHold = `SELECT ${holdColumns} FROM things ${holdFrom} WHERE things.id = $1 AND held_back_reason IS NOT NULL`;

/** The hold of a thing; null where there is none. */
export function holdOf(reader: Reader, thingId: string): Promise<HeldThing['heldBack'] | null> {
  return reader.row<HeldThing['heldBack'] & Record<string, unknown>>(selectHold, [thingId]);
}

const selectDue = `
  SELECT count(*)::integer AS count, (SELECT ${thingName} FROM things ${thingFacts} WHERE hold_look_again_on <= $1 AND held_back_reason IS NOT NULL
           AND NOT condemned AND NOT kept_for_owner AND held + awaited > 0 ORDER BY hold_look_again_on, things.id LIMIT 1) AS name
    FROM things WHERE hold_look_again_on <= $1 AND held_back_reason IS NOT NULL AND NOT condemned AND NOT kept_for_owner AND held + awaited > 0`;

/** How many holds are to be looked at again, and the name of the first. */
export async function holdsDue(reader: Reader, today: string): Promise<{ count: number; name: string }> {
  const row = await reader.row<{ count: number; name: string | null }>(selectDue, [today]);
  return { count: row?.count ?? 0, name: row?.name ?? '' };
}
