import type { Transaction } from '../platform/commands/unit-of-work.js';
import { newId } from '../platform/new-id.js';

const selectByName = `
  SELECT id, is_supplier AS "isSupplier" FROM parties WHERE lower(name) = lower($1) ORDER BY name = $1 DESC, id LIMIT 1`;
const insertSupplier = `
  INSERT INTO parties (id, name, is_supplier) VALUES ($1, $2, true)
  ON CONFLICT (name) DO UPDATE SET is_supplier = true RETURNING id`;
const markSupplier = 'UPDATE parties SET is_supplier = true WHERE id = $1';

/** The firm of that name, however it is capitalised; made where it is new. A firm that was only a customer is a supplier from now on. */
export async function supplierByName(transaction: Transaction, name: string): Promise<string> {
  const firm = await transaction.row<{ id: string; isSupplier: boolean }>(selectByName, [name]);
  if (firm) {
    if (!firm.isSupplier) await transaction.rows(markSupplier, [firm.id]);
    return firm.id;
  }
  const made = await transaction.row<{ id: string }>(insertSupplier, [newId(), name]);
  return made!.id;
}
