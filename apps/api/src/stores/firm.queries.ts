import type { FirmBrief } from '@corewright/contracts/stores';
import type * as z from 'zod';
import { patternsOfWords } from '../catalogue/search-words.js';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import type { Reader } from '../platform/database/database.js';
import { newId } from '../platform/new-id.js';
import { invariant } from '../platform/refusal.js';
import { unknownOwnerId } from './ledger.js';

export type Firm = z.infer<typeof FirmBrief>;

const firmsMax = 200;
const columns = 'id, name, is_customer AS "isCustomer", is_supplier AS "isSupplier", is_outworker AS "isOutworker"';

const findFirms = `SELECT ${columns} FROM parties WHERE name ILIKE ALL ($1::text[]) AND id <> '${unknownOwnerId}' ORDER BY name, id LIMIT ${firmsMax}`;
const selectNamed = `SELECT ${columns} FROM parties WHERE lower(name) = lower($1) ORDER BY name = $1 DESC, id LIMIT 1`;
const insert = `
  INSERT INTO parties (id, name, is_customer, is_supplier, is_outworker) VALUES ($1, $2, $3, $4, $5) RETURNING ${columns}`;
const insertSupplier = `
  INSERT INTO parties (id, name, is_supplier) VALUES ($1, $2, true)
  ON CONFLICT (name) DO UPDATE SET is_supplier = true RETURNING ${columns}`;

export function firmsLike(reader: Reader, keyed: string): Promise<Firm[]> {
  return reader.rows<Firm & Record<string, unknown>>(findFirms, [patternsOfWords(keyed)]);
}

/** The firm of that name, small or capital letters alike. */
export function firmNamed(reader: Reader, name: string): Promise<Firm | null> {
  return reader.row<Firm & Record<string, unknown>>(selectNamed, [name]);
}

export async function addFirm(transaction: Transaction, firm: Firm): Promise<Firm> {
  const added = await transaction.row<Firm & Record<string, unknown>>(insert, [
    firm.id,
    firm.name,
    firm.isCustomer,
    firm.isSupplier,
    firm.isOutworker,
  ]);
  return added ?? firm;
}

/** The firm that something was bought from, made where nobody knew it. */
export async function sellerNamed(transaction: Transaction, name: string): Promise<Firm> {
  const known = await firmNamed(transaction, name);
  const seller = await transaction.row<Firm & Record<string, unknown>>(insertSupplier, [newId(), known?.name ?? name]);
  invariant(seller, 'a seller is there after it was written');
  return seller;
}
