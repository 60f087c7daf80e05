import type { EditLabelPrinter, LabelPrinter } from '@corewright/contracts/labels';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, changedMeanwhile, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { printerById } from '../printer.queries.js';

const lock = 'SELECT 1 AS there FROM label_printers WHERE id = $1 FOR UPDATE';
const namesake = 'SELECT 1 AS there FROM label_printers WHERE lower(name) = lower($1) AND id <> $2';
const insert = 'INSERT INTO label_printers (id, name, stock, dots_per_inch) VALUES ($1, $2, $3, $4)';
const update = `
  UPDATE label_printers SET name = $2, stock = $3, dots_per_inch = $4, version = version + 1 WHERE id = $1`;

/** A printer that is new, without If-Match, or one that is changed, with the version that was seen. */
@Injectable()
export class EditPrinterHandler {
  async handle(transaction: Transaction, id: string, input: z.infer<typeof EditLabelPrinter>): Promise<Result<LabelPrinter>> {
    await transaction.row(lock, [id]);
    const before = await printerById(transaction, id);
    const { versionSeen } = transaction.command;
    if (before === null && versionSeen !== null) return refused(notFound('That printer'));
    if (before !== null && versionSeen === null)
      return refused({
        status: 428,
        code: 'if-match-missing',
        title: 'Which one was seen?',
        detail: 'This printer is in the books already. A change of it needs the header If-Match with the version that was seen.',
      });
    if (before !== null && before.version !== versionSeen) return refused(changedMeanwhile(before));
    if (await transaction.row(namesake, [input.name, id]))
      return refused(badInput('name', `There is a printer “${input.name}” already. Give this one another name.`));
    await transaction.rows(before === null ? insert : update, [id, input.name, input.stock, input.dotsPerInch]);
    transaction.news('settings');
    const after = await printerById(transaction, id);
    invariant(after, 'a printer that was just written is there');
    return done(after);
  }
}
