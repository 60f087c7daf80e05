import { type Decimal, decimalFrom } from '@corewright/quantities/decimal';
import type { UnitOfMeasure } from '@corewright/quantities/unit-of-measure';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import type { Reader } from '../platform/database/database.js';
import { done, type Result, refused } from '../platform/refusal.js';
import { readCode, whyNothingOpens } from '../scanning/resolve-code.js';
import { thingFacts, thingName } from '../stores/place-words.js';

export interface ThingCounted {
  id: string;
  code: string;
  name: string;
  kind: 'U' | 'L' | 'C' | 'X';
  partId: string | null;
  unitOfMeasure: UnitOfMeasure;
  /** since when the books know it */
  knownSince: string;
}

const thingByCode = `
  SELECT things.id, codes.code, things.kind, ${thingName} AS name, coalesce(lots.part_id, components.part_id) AS "partId",
         coalesce(parts.unit_of_measure, 'each') AS "unitOfMeasure",
         least(things.created_at, (SELECT min(occurred_at) FROM movements WHERE movements.thing_id = things.id)) AS "knownSince"
    FROM codes JOIN things ON things.id = codes.subject_id ${thingFacts} WHERE codes.code = $1 AND codes.voided_at IS NULL`;

/** The thing on whose label a code is. A place that was scanned as a thing is told. */
export async function thingScanned(transaction: Transaction, text: string): Promise<Result<ThingCounted>> {
  const read = readCode(text, ['U', 'L', 'C', 'X']);
  if (!read.ok) return read;
  const thing = await transaction.row<ThingCounted & Record<string, unknown>>(thingByCode, [read.value.code]);
  return thing === null ? refused(await whyNothingOpens(transaction, read.value)) : done(thing);
}

const selectMost = `
  SELECT coalesce(max(held), 0)::text AS most FROM (
    SELECT sum(CASE WHEN target.counts THEN quantity ELSE 0 END - CASE WHEN source.counts THEN quantity ELSE 0 END) OVER (ORDER BY sequence) AS held
      FROM movements JOIN holders AS source ON source.id = from_holder_id JOIN holders AS target ON target.id = to_holder_id
     WHERE thing_id = $1) AS after_each`;

/** The most that was ever held of a thing. */
export async function mostHeld(reader: Reader, thingId: string): Promise<Decimal> {
  const row = await reader.row<{ most: string }>(selectMost, [thingId]);
  return decimalFrom(row?.most ?? '0');
}
