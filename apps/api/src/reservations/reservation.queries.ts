import type { Reservation } from '@corewright/contracts/reservations';
import { decimalFrom, formatDecimal, subtractDecimals } from '@corewright/quantities/decimal';
import { mainNumber } from '../catalogue/part.queries.js';
import { idlePart, rankedClaims } from '../jobs/idle-claims.js';
import type { Reader } from '../platform/database/database.js';
import { codeOf, holderWords, thingFacts, thingName } from '../stores/place-words.js';

/** A reservation as it is shown, with what tells whether it would still be made. */
export interface ReservationRow
  extends Omit<Reservation, 'line' | 'thing' | 'receipt' | 'doubt' | 'inTray'>,
    Record<string, unknown> {
  lineId: string | null;
  lineNo: number | null;
  lineName: string | null;
  partId: string | null;
  /** "4471 of Brantock": what it is, as its part is numbered */
  partCalled: string;
  thingId: string | null;
  code: string | null;
  receiptId: string | null;
  orderReference: string | null;
  supplier: string | null;
  dueOn: string | null;
  confirmed: boolean | null;
  idle: string;
}

const partCalled = (partId: string) => `coalesce((
  SELECT coalesce(main.number || coalesce(' of ' || makers.name, ''), parts.name) FROM parts ${mainNumber} WHERE parts.id = ${partId}), '')`;
const ofThings = `
  SELECT ranked.id AS "claimId", NULL AS "expectedClaimId", job_lines.id AS "lineId", line_no AS "lineNo", line_parts.name AS "lineName",
         coalesce(lots.part_id, components.part_id) AS "partId", ${partCalled('coalesce(lots.part_id, components.part_id)')} AS "partCalled",
         things.id AS "thingId", ${codeOf('things.id')} AS code, NULL AS "receiptId", NULL AS "orderReference", NULL AS supplier,
         NULL AS "dueOn", NULL::boolean AS confirmed, ${thingName} AS name,
         coalesce((SELECT string_agg(${holderWords('holders.id', 'holders.kind')}, '; ' ORDER BY balances.quantity DESC, holders.id)
           FROM balances JOIN holders ON holders.id = holder_id
          WHERE balances.thing_id = things.id AND balances.quantity > 0 AND holders.is_stock), 'nowhere') AS where,
         ranked.quantity, ${idlePart} AS idle, coalesce(parts.unit_of_measure, line_parts.unit_of_measure, 'each') AS "unitOfMeasure",
         coalesce(people.display_name, '') AS by, ranked.made_at AS since, ranked.until
    FROM ${rankedClaims('claimant_id = $1')} JOIN things ON things.id = ranked.thing_id ${thingFacts}
    LEFT JOIN job_lines ON job_lines.id = ranked.purpose_id LEFT JOIN parts AS line_parts ON line_parts.id = job_lines.part_id
    LEFT JOIN people ON people.id = ranked.made_by
   ORDER BY line_no NULLS LAST, ranked.made_at, ranked.id`;
const ofOrders = `
  SELECT NULL AS "claimId", expected_claims.id AS "expectedClaimId", job_lines.id AS "lineId", line_no AS "lineNo", line_parts.name AS "lineName",
         receipts.part_id AS "partId", ${partCalled('receipts.part_id')} AS "partCalled",
         NULL AS "thingId", NULL AS code, receipts.id AS "receiptId", order_reference AS "orderReference", parties.name AS supplier,
         due_on AS "dueOn", confirmed, ordered.name, 'on order' AS where, expected_claims.quantity, expected_claims.quantity AS idle,
         ordered.unit_of_measure AS "unitOfMeasure", coalesce(people.display_name, '') AS by, expected_claims.made_at AS since, expected_claims.until
    FROM expected_claims JOIN expected_receipts AS receipts ON receipts.id = receipt_id JOIN parties ON parties.id = supplier_id
    JOIN parts AS ordered ON ordered.id = receipts.part_id
    JOIN job_lines ON job_lines.id = purpose_id JOIN parts AS line_parts ON line_parts.id = job_lines.part_id
    LEFT JOIN people ON people.id = made_by
   WHERE claimant_id = $1 AND expected_claims.quantity > 0 ORDER BY line_no, expected_claims.made_at, expected_claims.id`;

/** What a job has reserved: things first, then what is on order, by line. */
export async function reservationRows(reader: Reader, jobId: string): Promise<ReservationRow[]> {
  const [things, orders] = await Promise.all([
    reader.rows<ReservationRow>(ofThings, [jobId]),
    reader.rows<ReservationRow>(ofOrders, [jobId]),
  ]);
  return [...things, ...orders];
}

export function shownReservation(row: ReservationRow, doubt: string): Reservation {
  const { claimId, expectedClaimId, name, where, unitOfMeasure, by, since, until } = row;
  const quantity = decimalFrom(row.quantity);
  return {
    claimId,
    expectedClaimId,
    line: row.lineId && row.lineNo !== null ? { id: row.lineId, lineNo: row.lineNo, name: row.lineName ?? '' } : null,
    thing: row.thingId && row.code ? { id: row.thingId, code: row.code, name } : null,
    receipt:
      row.receiptId === null
        ? null
        : {
            id: row.receiptId,
            orderReference: row.orderReference ?? '',
            supplier: row.supplier ?? '',
            dueOn: row.dueOn,
            confirmed: row.confirmed === true,
          },
    name,
    where,
    quantity: formatDecimal(quantity),
    inTray: formatDecimal(subtractDecimals(quantity, decimalFrom(row.idle))),
    unitOfMeasure,
    by,
    since,
    until,
    doubt,
  };
}
