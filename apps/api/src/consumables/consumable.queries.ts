import type { Charging, FullContainers, OpenedContainer } from '@corewright/contracts/consumables';
import { byUseBy, useByOf } from '../catalogue/use-by.js';
import type { Reader } from '../platform/database/database.js';
import { codeOf, placePath } from '../stores/place-words.js';

/** A part that is used up by the container. Amounts are minor units as text. */
export interface ConsumableRow {
  partId: string;
  name: string;
  number: string;
  container: string;
  keepsDays: number | null;
  oneAtATime: boolean;
  charged: Charging;
  useMinor: string | null;
  usesPerContainer: number | null;
  currency: string;
  withdrawn: boolean;
  version: number;
}

const columns = `
  consumables.part_id AS "partId", parts.name, coalesce((SELECT number FROM part_numbers WHERE part_id = parts.id AND is_main), '') AS number,
  container, keeps_days AS "keepsDays", one_at_a_time AS "oneAtATime", charged, use_minor::text AS "useMinor",
  uses_per_container AS "usesPerContainer", currency, withdrawn, consumables.version`;
const from = 'FROM consumables JOIN parts ON parts.id = consumables.part_id';
const selectAll = `SELECT ${columns} ${from} WHERE NOT withdrawn ORDER BY parts.name, parts.id`;
const selectOne = `SELECT ${columns} ${from} WHERE consumables.part_id = $1`;
const lockOne = `${selectOne} FOR NO KEY UPDATE OF consumables`;

export function allConsumables(reader: Reader): Promise<ConsumableRow[]> {
  return reader.rows<ConsumableRow & Record<string, unknown>>(selectAll);
}

/** Also one that was withdrawn. */
export function consumableOf(reader: Reader, partId: string): Promise<ConsumableRow | null> {
  return reader.row<ConsumableRow & Record<string, unknown>>(selectOne, [partId]);
}

/**
 * Locks a consumable: who opens or ends one of its containers, or uses one, comes one after another. It is locked after jobs and before things.
 * One that was withdrawn is none.
 */
export async function lockConsumable(reader: Reader, partId: string): Promise<ConsumableRow | null> {
  const row = await reader.row<ConsumableRow & Record<string, unknown>>(lockOne, [partId]);
  return row === null || row.withdrawn ? null : row;
}

const packetUseBy = (thingId: string): string =>
  `(SELECT use_by FROM use_by_readings WHERE use_by_readings.thing_id = ${thingId} ORDER BY sequence DESC LIMIT 1)`;
const whereHeld = `coalesce((SELECT string_agg(${placePath('balances.holder_id')}, '; ' ORDER BY quantity DESC, holder_id) FROM balances
  WHERE balances.thing_id = things.id AND with_us AND quantity > 0), 'not here')`;

const selectOpen = `
  SELECT open_containers.part_id AS "partId", things.id, ${codeOf('things.id')} AS code, parts.name, ${whereHeld} AS where, opening.opened_on AS "openedOn",
         coalesce(opening.by, '') AS "openedBy", ${packetUseBy('things.id')} AS "packetUseBy", keeps_days AS "keepsDays",
         (SELECT coalesce(sum(uses), 0)::int FROM consumable_uses AS used WHERE used.thing_id = things.id
             AND NOT EXISTS (SELECT FROM consumable_uses AS later WHERE later.puts_right_id = used.id)) AS uses
    FROM open_containers JOIN things ON things.id = open_containers.thing_id JOIN consumables ON consumables.part_id = open_containers.part_id
    JOIN parts ON parts.id = open_containers.part_id
    JOIN LATERAL (SELECT opened_on, people.display_name AS by FROM container_events LEFT JOIN people ON people.id = person_id
                   WHERE container_events.thing_id = things.id AND kind = 'opened' ORDER BY sequence DESC LIMIT 1) AS opening ON true
   WHERE open_containers.part_id = ANY ($1::uuid[]) AND held > 0`;

const selectFull = `
  SELECT lots.part_id AS "partId", things.id, ${codeOf('things.id')} AS code, parts.name, trim_scale(held)::text AS quantity,
         trim_scale(greatest(held - claimed, 0))::text AS free, ${whereHeld} AS where, ${packetUseBy('things.id')} AS "packetUseBy",
         owner_id IS NULL AND held_back_reason IS NULL AND NOT condemned AND missing_since IS NULL AS usable
    FROM lots JOIN things ON things.id = lots.thing_id JOIN parts ON parts.id = lots.part_id
   WHERE lots.part_id = ANY ($1::uuid[]) AND held > 0 AND NOT EXISTS (SELECT FROM open_containers WHERE open_containers.thing_id = things.id)`;

type OpenRow = Omit<OpenedContainer, 'thing' | 'useBy'> & {
  partId: string;
  id: string;
  code: string;
  name: string;
  packetUseBy: string | null;
  keepsDays: number | null;
};
interface FullRow {
  partId: string;
  id: string;
  code: string;
  name: string;
  quantity: string;
  free: string;
  where: string;
  packetUseBy: string | null;
  usable: boolean;
}

export type Opened = OpenedContainer & { partId: string };
/** `free`: how many of them may be used now; none where they are past use-by, held back, missing, a customer's or reserved. */
export type Full = FullContainers & { partId: string; free: string };

/** The open containers of these parts, the nearest use-by date first. */
export async function openContainersOf(reader: Reader, partIds: readonly string[], today: string): Promise<Opened[]> {
  const rows = await reader.rows<OpenRow & Record<string, unknown>>(selectOpen, [partIds]);
  return rows
    .map(({ id, code, name, packetUseBy: packet, keepsDays, ...row }) => ({
      ...row,
      thing: { id, code, name },
      useBy: useByOf({ packetUseBy: packet, isOpen: true, openedOn: row.openedOn, keepsDays }, today),
    }))
    .toSorted((a, b) => byUseBy({ ...a, code: a.thing.code }, { ...b, code: b.thing.code }));
}

/** The lots of full containers of these parts, the nearest use-by date first. */
export async function fullContainersOf(reader: Reader, partIds: readonly string[], today: string): Promise<Full[]> {
  const rows = await reader.rows<FullRow & Record<string, unknown>>(selectFull, [partIds]);
  return rows
    .map(({ partId, id, code, name, quantity, free, where, packetUseBy: packet, usable }) => {
      const useBy = useByOf({ packetUseBy: packet, isOpen: false, openedOn: null, keepsDays: null }, today);
      return { partId, thing: { id, code, name }, quantity, where, useBy, free: usable && !useBy.past ? free : '0' };
    })
    .toSorted((a, b) => byUseBy({ ...a, code: a.thing.code }, { ...b, code: b.thing.code }));
}

/** What the packet of a lot says, as it was read last. */
export async function packetUseByOf(reader: Reader, thingId: string): Promise<string | null> {
  const row = await reader.row<{ useBy: string | null }>(`SELECT ${packetUseBy('$1::uuid')} AS "useBy"`, [thingId]);
  return row?.useBy ?? null;
}
