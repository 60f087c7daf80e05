import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, type Result, refused } from '../../platform/refusal.js';
import { addFirm, type Firm, firmNamed } from '../firm.queries.js';

const isThere = 'SELECT 1 AS there FROM parties WHERE id = $1';

/** A firm that nobody knew. Two of one name would be taken for each other. */
@Injectable()
export class AddFirmHandler {
  async handle(transaction: Transaction, firm: Firm): Promise<Result<Firm>> {
    if (!(firm.isCustomer || firm.isSupplier || firm.isOutworker))
      return refused(badInput('isCustomer', 'Say what this firm is to the workshop: customer, supplier or outworker.'));
    if (await transaction.row(isThere, [firm.id])) return refused(badInput('id', 'A firm with this id is in the books already.'));
    const namesake = await firmNamed(transaction, firm.name);
    if (namesake !== null)
      return refused(
        badInput('name', `${namesake.name} is in the books already. Choose it from the list, or add what tells them apart.`),
      );
    transaction.news('settings');
    return done(await addFirm(transaction, firm));
  }
}
