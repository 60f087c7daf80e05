import type { Arrival, Arrived } from '@corewright/contracts/buying';
import { type Decimal, formatDecimal } from '@corewright/quantities/decimal';
import { type PacketDate, readPacketDate } from '@corewright/quantities/packet-date';
import { checkQuantity } from '@corewright/quantities/unit-of-measure';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import { nothingInspected, storageLifeOf } from '../../catalogue/storage-life.js';
import { WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, notFound, type Result, refused } from '../../platform/refusal.js';
import { holderOf, move } from '../../stores/ledger.js';
import { addLot } from '../../stores/new-things.js';
import { placeForGoods } from '../../stores/place-for-goods.js';
import { expectedClaimsOn, lockJobsById } from '../expected-claims.js';
import { lockReceipt, type ReceiptFacts } from '../receipt.queries.js';
import { claimForJob } from './claim-for-job.js';
import { decideArrival } from './decide-arrival.js';
import { claimPassedOn, passReservationsOn } from './pass-reservations-on.js';

type Input = z.infer<typeof Arrival>;

const selectThing = 'SELECT kind FROM things WHERE id = $1';
const raiseReceived = `
  UPDATE expected_receipts SET quantity_received = quantity_received + $2, version = version + 1 WHERE id = $1`;

/** Goods of an order have come: they become a lot with a code of its own, moved from the supplier to a place. */
@Injectable()
export class BookArrivalHandler {
  constructor(private readonly clock: WorkshopClock) {}

  async handle(transaction: Transaction, receiptId: string, input: Input): Promise<Result<z.infer<typeof Arrived>>> {
    const receipt = await lockReceipt(transaction, receiptId);
    if (!receipt) return refused(notFound('This order'));
    const reserved = await expectedClaimsOn(transaction, [receiptId]);
    const jobIds = [...reserved.map(({ jobId }) => jobId), receipt.forJobId].filter((id) => id !== null);
    if (jobIds.length > 0) await lockJobsById(transaction, jobIds);
    const quantity = checkQuantity(input.quantity, receipt.unitOfMeasure);
    if (!quantity.ok) return refused(badInput('quantity', quantity.error.sentence));
    const decided = decideArrival(receipt, quantity.value, input.source);
    if (!decided.ok) return decided;
    const today = await this.clock.today(transaction);
    const packet = readPacketDate(input.packetRead, { material: receipt.material === 'rubber' ? 'rubber' : 'other', today });
    if (!packet.ok) return refused(badInput('packetRead', packet.error.sentence));
    const barred = await this.whyNotThere(transaction, input);
    if (barred) return refused(barred);
    const serves = !stopsFitting(receipt, input, packet.value, today);
    const arrival = { receipt, ...input, quantity: quantity.value, serves, outstanding: decided.value.outstanding };
    const passing = await passReservationsOn(transaction, reserved, arrival);
    const code = await this.bookIn(transaction, receipt, input, quantity.value, packet.value);
    const left = claimPassedOn(transaction, input.lotId, passing, quantity.value);
    if (receipt.forJobId !== null && serves)
      await claimForJob(transaction, { lotId: input.lotId, partId: receipt.partId, jobId: receipt.forJobId }, left);
    return done({
      lot: { id: input.lotId, code, name: receipt.partName },
      outstanding: formatDecimal(decided.value.outstanding),
    });
  }

  private async whyNotThere(transaction: Transaction, input: Input) {
    const place = await placeForGoods(transaction, input.placeId);
    if (!place.ok) return place.error;
    const taken = await transaction.row(selectThing, [input.lotId]);
    return taken ? badInput('lotId', 'There is a thing with this identity already. Begin the arrival again.') : null;
  }

  private async bookIn(
    transaction: Transaction,
    receipt: ReceiptFacts,
    input: Input,
    quantity: Decimal,
    packet: PacketDate,
  ): Promise<string> {
    const text = formatDecimal(quantity);
    const code = await addLot(transaction, input.lotId, null, {
      partId: receipt.partId,
      words: '',
      source: input.source,
      make: input.make,
      makerId: null,
      marks: '',
      condition: input.condition,
      packet,
      packetCondition: input.packetCondition,
      note: '',
    });
    move(transaction, {
      thingId: input.lotId,
      quantity: text,
      fromHolderId: holderOf(transaction, receipt.supplierId, 'supplier'),
      toHolderId: input.placeId,
      reason: `came on order ${receipt.orderReference}`,
    });
    await transaction.rows(raiseReceived, [receipt.id, text]);
    transaction.news('receipts', 'today');
    return code;
  }
}

/** Rubber that may not be fitted serves no job, so nothing of it is claimed. */
function stopsFitting(receipt: ReceiptFacts, input: Input, packet: PacketDate, today: string): boolean {
  const facts = {
    material: receipt.material,
    polymer: receipt.polymer,
    packetRead: packet.asRead,
    packetEarliest: packet.earliest,
    packetLatest: packet.latest,
    packetCondition: input.packetCondition,
    ...nothingInspected,
  };
  return storageLifeOf(facts, today).stopsFitting;
}
