import { idlePart, rankedClaims } from '../jobs/idle-claims.js';
import type { Reader } from '../platform/database/database.js';
import { thingFacts, thingName } from '../stores/place-words.js';

/** One reservation as it is: how much of it there is, and how much of that does not lie in the tray of its job. */
export interface ReservedGoods {
  id: string;
  on: { thingId: string } | { receiptId: string };
  jobId: string;
  lineId: string | null;
  name: string;
  unitOfMeasure: string;
  quantity: string;
  idle: string;
  until: string | null;
}

interface Row extends Omit<ReservedGoods, 'on'>, Record<string, unknown> {
  onId: string;
}

const columns = 'claimant_id AS "jobId", purpose_id AS "lineId", quantity, until';
// Every claim of the job on the thing is ranked, since what lies in the tray is what was claimed first.
const ofThing = `
  SELECT ranked.id, ranked.thing_id AS "onId", ${columns}, ${idlePart} AS idle, ${thingName} AS name,
         coalesce(parts.unit_of_measure, 'each') AS "unitOfMeasure"
    FROM ${rankedClaims('claims.thing_id = (SELECT thing_id FROM claims AS wanted WHERE wanted.id = $1)')}
    JOIN things ON things.id = ranked.thing_id ${thingFacts} WHERE ranked.id = $1`;
const spentClaim = `
  SELECT claims.id, thing_id AS "onId", ${columns}, '0' AS idle, '' AS name, 'each' AS "unitOfMeasure" FROM claims WHERE claims.id = $1`;
const ofOrder = `
  SELECT expected_claims.id, receipt_id AS "onId", claimant_id AS "jobId", purpose_id AS "lineId", expected_claims.quantity,
         expected_claims.quantity AS idle, until, parts.name || ', order ' || order_reference AS name, unit_of_measure AS "unitOfMeasure"
    FROM expected_claims JOIN expected_receipts AS receipts ON receipts.id = receipt_id JOIN parts ON parts.id = part_id
   WHERE expected_claims.id = $1`;

/** A reservation of a thing; null where there never was one by this id. */
export async function reservedThing(reader: Reader, claimId: string): Promise<ReservedGoods | null> {
  const row = (await reader.row<Row>(ofThing, [claimId])) ?? (await reader.row<Row>(spentClaim, [claimId]));
  return row && shown(row, { thingId: row.onId });
}

/** A reservation of what is on order. */
export async function reservedExpected(reader: Reader, claimId: string): Promise<ReservedGoods | null> {
  const row = await reader.row<Row>(ofOrder, [claimId]);
  return row && shown(row, { receiptId: row.onId });
}

function shown({ onId: _onId, ...row }: Row, on: ReservedGoods['on']): ReservedGoods {
  return { ...row, on };
}
