import type { Transaction } from '../platform/commands/unit-of-work.js';

const numberMax = 99_999;

/** The workshop's own number of a load or a job, where its reference is one that can be kept. */
export function plainNumberOf(reference: string): number | null {
  const number = /^[1-9]\d{0,4}$/.test(reference) ? Number(reference) : 0;
  return number > 0 && number <= numberMax ? number : null;
}

const sequences = {
  load_numbers: {
    drawn: 'SELECT CASE WHEN is_called THEN last_value ELSE 0 END AS last FROM load_numbers',
    draw: `SELECT max(nextval('load_numbers')) AS last FROM generate_series(1, $1::integer)`,
  },
  code_serial_j: {
    drawn: 'SELECT CASE WHEN is_called THEN last_value ELSE 0 END AS last FROM code_serial_j',
    draw: `SELECT max(nextval('code_serial_j')) AS last FROM generate_series(1, $1::integer)`,
  },
};

/**
 * Draws numbers until this one is drawn, so that nobody is given it again. Numbers are drawn for good, so whoever only tries an
 * import draws none.
 */
export async function skipTo(transaction: Transaction, sequence: keyof typeof sequences, number: number): Promise<void> {
  const row = await transaction.row<{ last: number }>(sequences[sequence].drawn);
  const lacking = number - (row?.last ?? 0);
  if (lacking > 0) await transaction.rows(sequences[sequence].draw, [lacking]);
}
