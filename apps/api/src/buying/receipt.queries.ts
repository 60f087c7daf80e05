import type { UnitOfMeasure } from '@corewright/contracts/base';
import type { Receipt } from '@corewright/contracts/buying';
import type { PartPage } from '@corewright/contracts/catalogue';
import { decimalFrom, formatDecimal, subtractDecimals } from '@corewright/quantities/decimal';
import type { Reader } from '../platform/database/database.js';

/** What an order says beside what is shown of it. */
export interface ReceiptFacts {
  id: string;
  orderReference: string;
  supplierId: string;
  partId: string;
  partName: string;
  unitOfMeasure: UnitOfMeasure;
  material: string;
  polymer: string;
  quantity: string;
  quantityReceived: string;
  forJobId: string | null;
  calledOff: boolean;
  version: number;
}

interface ReceiptRow extends Record<string, unknown> {
  id: string;
  orderReference: string;
  supplierId: string;
  supplierName: string;
  partId: string;
  partName: string;
  number: string;
  quantity: string;
  quantityReceived: string;
  dueOn: string | null;
  confirmed: boolean;
  jobId: string | null;
  jobCode: string | null;
  jobTitle: string | null;
  calledOff: boolean;
  note: string;
  version: number;
}

const columns = `
  receipts.id, order_reference AS "orderReference", supplier_id AS "supplierId", parties.name AS "supplierName",
  receipts.part_id AS "partId", parts.name AS "partName",
  coalesce((SELECT number FROM part_numbers WHERE part_id = receipts.part_id ORDER BY is_main DESC, number LIMIT 1), '') AS number,
  receipts.quantity, quantity_received AS "quantityReceived", due_on AS "dueOn", confirmed, called_off AS "calledOff",
  receipts.note, receipts.version, jobs.id AS "jobId", jobs.title AS "jobTitle",
  (SELECT code FROM codes WHERE subject_id = jobs.id AND kind = 'J' AND voided_at IS NULL ORDER BY given_at DESC LIMIT 1) AS "jobCode"`;
const from = `
  FROM expected_receipts AS receipts JOIN parties ON parties.id = supplier_id JOIN parts ON parts.id = receipts.part_id
  LEFT JOIN jobs ON jobs.id = for_job_id`;
const isOpen = 'NOT called_off AND quantity_received < receipts.quantity';
// An order without a date comes last.
const dueOrLast = `coalesce(due_on, date '9999-12-31')`;
const selectPage = `SELECT ${columns} ${from}
   WHERE ($1::boolean IS NULL OR (${isOpen}) = $1)
     AND ($2::uuid IS NULL OR receipts.part_id = $2)
     AND ($3::date IS NULL OR (${dueOrLast}, receipts.id) > ($3, $4::uuid))
   ORDER BY ${dueOrLast}, receipts.id LIMIT $5`;
const selectOne = `SELECT ${columns} ${from} WHERE receipts.id = $1`;
const lockFacts = `
  SELECT receipts.id, order_reference AS "orderReference", supplier_id AS "supplierId", part_id AS "partId",
         parts.name AS "partName", unit_of_measure AS "unitOfMeasure", material, polymer, quantity,
         quantity_received AS "quantityReceived", for_job_id AS "forJobId", called_off AS "calledOff", receipts.version
    FROM expected_receipts AS receipts JOIN parts ON parts.id = part_id WHERE receipts.id = $1 FOR NO KEY UPDATE OF receipts`;
const selectOpenOfPart = `
  SELECT receipts.id, order_reference AS "orderReference", parties.name AS supplier, quantity,
         quantity_received AS "quantityReceived", due_on AS "dueOn", confirmed
    FROM expected_receipts AS receipts JOIN parties ON parties.id = supplier_id
   WHERE part_id = $1 AND ${isOpen} ORDER BY ${dueOrLast}, receipts.id`;

export interface ReceiptFilter {
  open: boolean | null;
  partId: string | null;
  after: { dueOn: string; id: string } | null;
  limit: number;
}

/** The last day that sorts: where an order without a date stands in the list. */
export const noDueDate = '9999-12-31';

export async function listReceipts(reader: Reader, filter: ReceiptFilter): Promise<Receipt[]> {
  const after = filter.after;
  const rows = await reader.rows<ReceiptRow>(selectPage, [
    filter.open,
    filter.partId,
    after?.dueOn ?? null,
    after?.id ?? null,
    filter.limit,
  ]);
  return rows.map(shown);
}

export async function readReceipt(reader: Reader, id: string): Promise<Receipt | null> {
  const row = await reader.row<ReceiptRow>(selectOne, [id]);
  return row && shown(row);
}

/** Locks an order for this transaction. */
export function lockReceipt(transaction: Reader, id: string): Promise<ReceiptFacts | null> {
  return transaction.row<ReceiptFacts & Record<string, unknown>>(lockFacts, [id]);
}

/** What of a part is still to come; the quantity is what is outstanding. */
export async function receiptsOfPart(reader: Reader, partId: string): Promise<PartPage['receipts']> {
  const rows = await reader.rows<PartPage['receipts'][number] & { quantityReceived: string }>(selectOpenOfPart, [partId]);
  return rows.map(({ quantityReceived, ...row }) => ({ ...row, quantity: outstandingOf({ ...row, quantityReceived }) }));
}

/** Ordered less received, an exact decimal. */
export function outstandingOf(receipt: { quantity: string; quantityReceived: string }): string {
  return formatDecimal(subtractDecimals(decimalFrom(receipt.quantity), decimalFrom(receipt.quantityReceived)));
}

function shown(row: ReceiptRow): Receipt {
  return {
    id: row.id,
    orderReference: row.orderReference,
    supplier: { id: row.supplierId, name: row.supplierName },
    part: { id: row.partId, name: row.partName, number: row.number },
    quantity: formatDecimal(decimalFrom(row.quantity)),
    quantityReceived: formatDecimal(decimalFrom(row.quantityReceived)),
    dueOn: row.dueOn,
    confirmed: row.confirmed,
    forJob: row.jobId && row.jobCode ? { id: row.jobId, code: row.jobCode, name: row.jobTitle ?? '' } : null,
    calledOff: row.calledOff,
    note: row.note,
    version: row.version,
  };
}
