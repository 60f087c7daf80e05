import type { Make, PacketCondition, PacketPrecision, Source, UnitOfMeasure } from '@corewright/contracts/base';
import type { Thing } from '@corewright/contracts/stores';
import { inspectedFacts, type StoredFacts } from '../catalogue/storage-life.js';
import type { Reader } from '../platform/database/database.js';
import { codeOf, holderWords, saidEmpty, thingFacts, thingName, typeName } from './place-words.js';

/** A thing's row with every fact that its kind may have; the others are null. */
export interface ThingRow extends Pick<StoredFacts, 'inspectedOn' | 'bearingPacking' | 'bearingStore'> {
  id: string;
  kind: 'U' | 'L' | 'C' | 'X';
  code: string;
  name: string;
  ownerId: string | null;
  ownerName: string | null;
  held: string;
  claimed: string;
  heldBackReason: string | null;
  heldBackBy: string | null;
  condemned: boolean;
  keptForOwner: boolean;
  /** the day to look again, of what is kept for its owner */
  keptUntil: string | null;
  keptKind: string | null;
  missingSince: string | null;
  version: number;
  note: string;
  words: string;
  marks: string;
  unitTypeId: string | null;
  typeName: string;
  grade: string;
  stage: string;
  weightKg: string | null;
  partId: string | null;
  partName: string | null;
  partNumber: string | null;
  partMaker: string | null;
  unitOfMeasure: UnitOfMeasure | null;
  material: string | null;
  polymer: string | null;
  source: Source;
  make: Make;
  makerName: string | null;
  condition: string;
  packetRead: string;
  packetPrecision: PacketPrecision;
  packetEarliest: string | null;
  packetLatest: string | null;
  packetCondition: PacketCondition;
  fittedOnce: boolean;
  /** the unit that a lot was taken out of */
  donorUnitId: string | null;
  donorCode: string | null;
  donorName: string | null;
  /** of shims, in millimetres */
  thickness: string | null;
  componentUnitId: string | null;
  componentPosition: number | null;
  componentCount: number;
  componentUnitCode: string | null;
  componentUnitName: string | null;
  /** of a box: how many were in it when it came; null where nobody counted */
  pieceCount: number | null;
  /** of a box: how many of them nobody has named yet */
  piecesLeft: number | null;
  /** of a box: somebody said that nothing is left in it */
  saidEmpty: boolean;
  /** the box that it lay in before somebody named it */
  boxId: string | null;
  boxCode: string | null;
  boxName: string | null;
}

/** A component's own part stands where a lot's part stands. */
const selectThings = `
  SELECT things.id, things.kind, coalesce(${codeOf('things.id')}, '') AS code, ${thingName} AS name,
         owner_id AS "ownerId", owners.name AS "ownerName", trim_scale(held)::text AS held, trim_scale(claimed)::text AS claimed,
         held_back_reason AS "heldBackReason", holders_back.display_name AS "heldBackBy", condemned, kept_for_owner AS "keptForOwner", kept.look_again_on AS "keptUntil", kept.kind AS "keptKind",
         missing_since AS "missingSince", things.version,
         coalesce(units.note, lots.note, components.note, unsorted_boxes.note, '') AS note,
         coalesce(units.words, lots.words, unsorted_boxes.words, '') AS words, coalesce(units.marks, lots.marks, '') AS marks,
         units.unit_type_id AS "unitTypeId", ${typeName} AS "typeName", coalesce(units.grade, '') AS grade,
         coalesce(units.stage, '') AS stage, trim_scale(unit_types.weight_kg)::text AS "weightKg",
         coalesce(parts.id, component_parts.id) AS "partId", coalesce(parts.name, component_parts.name) AS "partName",
         main.number AS "partNumber", main.maker AS "partMaker",
         parts.unit_of_measure AS "unitOfMeasure", parts.material, parts.polymer, lots.source, lots.make,
         lot_makers.name AS "makerName", coalesce(lots.condition, '') AS condition, lots.packet_read AS "packetRead",
         lots.packet_precision AS "packetPrecision", lots.packet_earliest AS "packetEarliest", lots.packet_latest AS "packetLatest",
         lots.packet_condition AS "packetCondition", coalesce(lots.fitted_once, false) AS "fittedOnce", ${inspectedFacts},
         lots.donor_unit_id AS "donorUnitId", ${codeOf('lots.donor_unit_id')} AS "donorCode", donor_type.name AS "donorName",
         trim_scale(lots.thickness_mm)::text AS thickness,
         components.unit_id AS "componentUnitId", components.position AS "componentPosition",
         ${codeOf('components.unit_id')} AS "componentUnitCode", coalesce(nullif(of_type.name, ''), of_unit.words) AS "componentUnitName",
         coalesce((SELECT max(unit_type_components.position)::integer FROM unit_type_components
                    WHERE unit_type_components.unit_type_id = of_unit.unit_type_id), 0) AS "componentCount",
         unsorted_boxes.piece_count AS "pieceCount", ${saidEmpty('unsorted_boxes.thing_id')} AS "saidEmpty",
         CASE WHEN ${saidEmpty('unsorted_boxes.thing_id')} THEN 0
              ELSE (unsorted_boxes.piece_count - pieces_named_of(unsorted_boxes.thing_id))::integer END AS "piecesLeft",
         out_of.box_id AS "boxId", ${codeOf('out_of.box_id')} AS "boxCode",
         (SELECT words FROM unsorted_boxes AS box WHERE box.thing_id = out_of.box_id) AS "boxName"
    FROM things ${thingFacts}
    LEFT JOIN kept_for_owners AS kept ON kept.thing_id = things.id AND kept.ended_at IS NULL
    LEFT JOIN parties AS owners ON owners.id = things.owner_id
    LEFT JOIN people AS holders_back ON holders_back.id = things.held_back_by
    LEFT JOIN makers AS lot_makers ON lot_makers.id = lots.maker_id
    LEFT JOIN parts AS component_parts ON component_parts.id = components.part_id
    LEFT JOIN LATERAL (SELECT number, makers.name AS maker FROM part_numbers JOIN makers ON makers.id = part_numbers.maker_id
                        WHERE part_id = coalesce(lots.part_id, components.part_id) ORDER BY is_main DESC, part_numbers.id LIMIT 1) AS main ON true
    LEFT JOIN units AS of_unit ON of_unit.thing_id = components.unit_id
    LEFT JOIN LATERAL (SELECT concat_ws(' ', makers.name, model, nullif(variant, '')) AS name FROM unit_types
                        JOIN makers ON makers.id = maker_id WHERE unit_types.id = of_unit.unit_type_id) AS of_type ON true
    LEFT JOIN LATERAL (SELECT coalesce(nullif(concat_ws(' ', makers.name, model, nullif(variant, '')), ''), donor.words) AS name
                         FROM units AS donor LEFT JOIN unit_types ON unit_types.id = donor.unit_type_id LEFT JOIN makers ON makers.id = maker_id
                        WHERE donor.thing_id = lots.donor_unit_id) AS donor_type ON true
    LEFT JOIN box_takings AS out_of ON out_of.thing_id = things.id
   WHERE things.id = ANY ($1::uuid[])`;

/** The rows of these things, in no order; those that are not in the books are left out. */
export function thingRows(reader: Reader, ids: readonly string[]): Promise<ThingRow[]> {
  return reader.rows<ThingRow & Record<string, unknown>>(selectThings, [ids]);
}

export async function thingRow(reader: Reader, id: string): Promise<ThingRow | null> {
  return (await thingRows(reader, [id]))[0] ?? null;
}

const selectHoldings = `
  SELECT balances.holder_id AS "holderId", holders.kind AS "holderKind", coalesce(${holderWords('holders.id', 'holders.kind')}, '') AS words,
         CASE WHEN holders.kind IN ('place', 'tray', 'unit', 'box') THEN ${codeOf('holders.id')} END AS code,
         trim_scale(quantity)::text AS quantity
    FROM balances JOIN holders ON holders.id = holder_id
   WHERE thing_id = $1 AND quantity > 0 AND holders.kind <> 'regrouping' ORDER BY counts DESC, balances.quantity DESC, words, holder_id`;

/** Where a thing is, so many in each place; ours first. What goes on under another label is not this thing any more. */
export function holdingsOf(reader: Reader, thingId: string): Promise<Thing['holdings']> {
  return reader.rows<Thing['holdings'][number] & Record<string, unknown>>(selectHoldings, [thingId]);
}

const selectClaims = `
  SELECT id, claimant_id AS "claimantId", ${codeOf('claims.claimant_id')} AS "claimantCode", trim_scale(quantity)::text AS quantity
    FROM claims WHERE thing_id = $1 AND quantity > 0 ORDER BY made_at, id`;

export interface OpenClaim {
  id: string;
  claimantId: string;
  claimantCode: string | null;
  quantity: string;
}

export function openClaims(reader: Reader, thingId: string): Promise<OpenClaim[]> {
  return reader.rows<OpenClaim & Record<string, unknown>>(selectClaims, [thingId]);
}

const selectLastSeen = `
  SELECT occurred_at AS at, coalesce(people.display_name, '') AS by,
         concat_ws(', ', reason, ${holderWords('holders.id', 'holders.kind')}) AS words
    FROM movements JOIN holders ON holders.id = to_holder_id LEFT JOIN people ON people.id = person_id
   WHERE thing_id = $1 ORDER BY sequence DESC LIMIT 1`;

export function lastSeen(reader: Reader, thingId: string): Promise<Thing['lastSeen']> {
  return reader.row<NonNullable<Thing['lastSeen']> & Record<string, unknown>>(selectLastSeen, [thingId]);
}
