import type { Reader } from '../../platform/database/database.js';
import { codeOf, placePath, thingFacts, thingName } from '../../stores/place-words.js';

export interface ArrivedLate extends Record<string, unknown> {
  thingId: string;
  code: string;
  name: string;
  place: string;
  number: number;
  occurredAt: string;
}

const shownMax = 20;

/**
 * What was counted and closed before a scan arrived that had been made before it was counted: the books were compared without it. Until somebody
 * counts the thing there once more.
 */
const selectArrivedLate = `
  SELECT DISTINCT ON (things.id, count_lines.place_id) things.id AS "thingId", coalesce(${codeOf('things.id')}, '') AS code, ${thingName} AS name,
         ${placePath('count_lines.place_id')} AS place, number, movements.occurred_at AS "occurredAt"
    FROM counts JOIN count_lines ON count_lines.count_id = counts.id
    JOIN movements ON movements.thing_id = count_lines.thing_id AND count_lines.place_id IN (from_holder_id, to_holder_id)
     AND movements.recorded_at > counts.ended_at AND movements.occurred_at <= count_lines.occurred_at AND movements.reverses_id IS NULL
    JOIN things ON things.id = count_lines.thing_id ${thingFacts}
   WHERE counts.ended_at > now() - interval '90 days'
     AND NOT EXISTS (SELECT FROM movements AS undone WHERE undone.reverses_id = movements.id)
     AND NOT EXISTS (SELECT FROM count_lines AS later WHERE later.thing_id = count_lines.thing_id AND later.place_id = count_lines.place_id
                       AND later.occurred_at > movements.recorded_at)
   ORDER BY things.id, count_lines.place_id, movements.sequence DESC LIMIT ${shownMax}`;

export function arrivedLate(reader: Reader): Promise<ArrivedLate[]> {
  return reader.rows<ArrivedLate>(selectArrivedLate);
}
