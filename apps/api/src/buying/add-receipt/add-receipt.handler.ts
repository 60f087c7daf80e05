import type { UnitOfMeasure } from '@corewright/contracts/base';
import type { AddReceipt, Receipt } from '@corewright/contracts/buying';
import { formatDecimal } from '@corewright/quantities/decimal';
import { checkQuantity } from '@corewright/quantities/unit-of-measure';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, invariant, type Result, refused } from '../../platform/refusal.js';
import { sellerNamed } from '../../stores/firm.queries.js';
import { whyNotConfirmed, whyNotForJob } from '../for-job.js';
import { readReceipt } from '../receipt.queries.js';

type Input = z.infer<typeof AddReceipt>;

const selectPart = 'SELECT unit_of_measure AS "unitOfMeasure" FROM parts WHERE id = $1';
const selectSame = 'SELECT id FROM expected_receipts WHERE supplier_id = $1 AND order_reference = $2 AND part_id = $3';
const insertReceipt = `
  INSERT INTO expected_receipts (id, order_reference, supplier_id, part_id, quantity, due_on, confirmed, for_job_id, note)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)`;

/** Writes down what was ordered: one row for each part of an order. */
@Injectable()
export class AddReceiptHandler {
  async handle(transaction: Transaction, input: Input): Promise<Result<Receipt>> {
    const part = await transaction.row<{ unitOfMeasure: UnitOfMeasure }>(selectPart, [input.partId]);
    if (!part) return refused(badInput('partId', 'That part is not in the books. Choose one from the list.'));
    const quantity = checkQuantity(input.quantity, part.unitOfMeasure);
    if (!quantity.ok) return refused(badInput('quantity', quantity.error.sentence));
    const barred = whyNotConfirmed(input) ?? (await whyNotForJob(transaction, input.forJobId));
    if (barred) return refused(barred);
    const { id: supplierId } = await sellerNamed(transaction, input.supplierName);
    const same = await transaction.row<{ id: string }>(selectSame, [supplierId, input.orderReference, input.partId]);
    if (same) return refused(listedAlready(input, same.id));
    await this.write(transaction, input, supplierId, formatDecimal(quantity.value));
    const receipt = await readReceipt(transaction, input.id);
    invariant(receipt, 'a receipt that was added is there');
    return done(receipt);
  }

  private async write(transaction: Transaction, input: Input, supplierId: string, quantity: string): Promise<void> {
    const { id, orderReference, partId, dueOn, confirmed, forJobId, note } = input;
    await transaction.rows(insertReceipt, [id, orderReference, supplierId, partId, quantity, dueOn, confirmed, forJobId, note]);
    transaction.news('receipts', 'today', `part:${partId}`);
    if (forJobId) transaction.news(`job:${forJobId}`);
  }
}

function listedAlready(input: Input, receiptId: string) {
  return {
    status: 409,
    code: 'already-there',
    title: 'On the order already',
    detail: `Order ${input.orderReference} of ${input.supplierName} lists this part already. Change that row instead.`,
    values: { receiptId },
  };
}
