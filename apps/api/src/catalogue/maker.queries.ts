import type { Named } from '@corewright/contracts/base';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import type { Reader } from '../platform/database/database.js';
import { newId } from '../platform/new-id.js';
import { invariant } from '../platform/refusal.js';

const selectNamed = 'SELECT id, name FROM makers WHERE lower(name) = lower($1) ORDER BY name = $1 DESC, id LIMIT 1';
/** The update changes nothing: it makes the row that another transaction was quicker to write come back. */
const insert = `
  INSERT INTO makers (id, name) VALUES ($1, $2) ON CONFLICT (name) DO UPDATE SET name = EXCLUDED.name RETURNING id, name`;

/** The maker of that name, small or capital letters alike; made where nobody knew it, for what stands on a packet is a fact. */
export async function makerCalled(transaction: Transaction, name: string): Promise<Named> {
  const known = await transaction.row<Named & Record<string, unknown>>(selectNamed, [name]);
  if (known !== null) return known;
  const added = await transaction.row<Named & Record<string, unknown>>(insert, [newId(), name]);
  invariant(added, 'a maker is there after it was written');
  return added;
}

/** The same, by its id alone. */
export async function makerNamed(transaction: Transaction, name: string): Promise<string> {
  return (await makerCalled(transaction, name)).id;
}

const selectAll = 'SELECT id, name FROM makers ORDER BY name';

export function allMakers(reader: Reader): Promise<Named[]> {
  return reader.rows<Named & Record<string, unknown>>(selectAll);
}
