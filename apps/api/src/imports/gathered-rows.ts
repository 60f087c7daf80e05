import type { Transaction } from '../platform/commands/unit-of-work.js';
import { type ManyRows, rowsTogether } from '../platform/database/many-rows.js';

/**
 * Rows that were checked and wait to be written together. Measured beside COPY in the same batches this costs a tenth more, and
 * nearly all of either goes into the indexes; COPY does not run on a connection that sends statements without waiting.
 */
export class GatheredRows {
  private readonly waiting = new Map<ManyRows, (readonly unknown[])[]>();

  constructor(private readonly transaction: Transaction) {}

  add(into: ManyRows, values: readonly unknown[]): void {
    const rows = this.waiting.get(into);
    if (rows) rows.push(values);
    else this.waiting.set(into, [values]);
  }

  /** Sends them, tables in the order in which they were first written to. Should one fail, so does every later statement. */
  write(): void {
    for (const [{ text }, rows] of this.waiting) this.transaction.send(text, rowsTogether(rows));
    this.waiting.clear();
  }
}
