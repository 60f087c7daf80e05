import type { KeepMinimum, Minimum } from '@corewright/contracts/consumables';
import { compareDecimals, decimalFrom, formatDecimal, zero } from '@corewright/quantities/decimal';
import { checkQuantity, type UnitOfMeasure } from '@corewright/quantities/unit-of-measure';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../../platform/commands/version-seen.js';
import type { Reader } from '../../platform/database/database.js';
import { badInput, done, notFound, type Result, refused } from '../../platform/refusal.js';
import { sellerNamed } from '../../stores/firm.queries.js';

const lockPart = 'SELECT unit_of_measure AS unit FROM parts WHERE id = $1 FOR NO KEY UPDATE';
const upsert = `
  INSERT INTO part_minimums (part_id, minimum, up_to, supplier_id, note) VALUES ($1, $2, $3, $4, $5)
  ON CONFLICT (part_id) DO UPDATE SET minimum = EXCLUDED.minimum, up_to = EXCLUDED.up_to, supplier_id = EXCLUDED.supplier_id, note = EXCLUDED.note,
    version = part_minimums.version + 1`;
const remove = 'DELETE FROM part_minimums WHERE part_id = $1';
const selectOne = `
  SELECT minimum, up_to AS "upTo", supplier_id AS "supplierId", parties.name AS "supplierName", part_minimums.note, part_minimums.version
    FROM part_minimums LEFT JOIN parties ON parties.id = supplier_id WHERE part_id = $1`;

interface MinimumRow extends Record<string, unknown> {
  minimum: string;
  upTo: string;
  supplierId: string | null;
  supplierName: string | null;
  note: string;
  version: number;
}

/** The minimum of a part; null where nobody has set one. */
export async function minimumOf(reader: Reader, partId: string): Promise<Minimum | null> {
  const row = await reader.row<MinimumRow>(selectOne, [partId]);
  if (row === null) return null;
  const { supplierId, supplierName, minimum, upTo, note, version } = row;
  const supplier = supplierId === null ? null : { id: supplierId, name: supplierName ?? '' };
  return { minimum: plain(minimum), upTo: plain(upTo), supplier, note, version };
}

/** Sets the minimum of a part, or changes it over the version that was seen. */
export async function keepMinimum(
  transaction: Transaction,
  partId: string,
  input: KeepMinimum,
): Promise<Result<{ minimum: Minimum | null }>> {
  const part = await transaction.row<{ unit: UnitOfMeasure }>(lockPart, [partId]);
  if (part === null) return refused(notFound('This part'));
  const known = await minimumOf(transaction, partId);
  const unseen = known === null ? null : whyNotCurrent(transaction.command, known);
  if (unseen !== null) return refused(unseen);
  const [minimum, upTo] = [checkQuantity(input.minimum, part.unit), checkQuantity(input.upTo, part.unit)];
  if (!minimum.ok) return refused(badInput('minimum', minimum.error.sentence));
  if (!upTo.ok) return refused(badInput('upTo', upTo.error.sentence));
  if (minimum.value <= zero)
    return refused(badInput('minimum', 'A minimum of nought asks for nothing. Take the minimum away instead.'));
  if (compareDecimals(upTo.value, minimum.value) < 0)
    return refused(badInput('upTo', 'Buying up to less than the minimum would leave it below at once. Key the minimum or more.'));
  const supplier = input.supplierName === '' ? null : await sellerNamed(transaction, input.supplierName);
  await transaction.rows(upsert, [
    partId,
    formatDecimal(minimum.value),
    formatDecimal(upTo.value),
    supplier?.id ?? null,
    input.note,
  ]);
  transaction.news('stores', 'today', `part:${partId}`);
  return done({ minimum: await minimumOf(transaction, partId) });
}

/** Nobody watches the part any longer. */
export async function removeMinimum(transaction: Transaction, partId: string): Promise<Result<{ minimum: null }>> {
  const part = await transaction.row(lockPart, [partId]);
  const known = part === null ? null : await minimumOf(transaction, partId);
  if (known === null) return refused(notFound('This minimum'));
  const unseen = whyNotCurrent(transaction.command, known);
  if (unseen !== null) return refused(unseen);
  await transaction.rows(remove, [partId]);
  transaction.news('stores', 'today', `part:${partId}`);
  return done({ minimum: null });
}

function plain(quantity: string): string {
  return formatDecimal(decimalFrom(quantity));
}
