import type { AcceptanceTerms, EditAcceptanceTerms } from '@corewright/contracts/acceptance';
import { restOfShares } from '@corewright/costing/judge-core';
import { type Decimal, formatDecimal, parseQuantity, sumDecimals, zero } from '@corewright/quantities/decimal';
import { parseMoney } from '@corewright/quantities/money';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../../platform/commands/version-seen.js';
import { badInput, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { typeComponents } from '../type-components/type-component.queries.js';
import { acceptanceTerms } from './terms.queries.js';

const lockType = 'SELECT 1 AS there FROM unit_types WHERE id = $1 FOR NO KEY UPDATE';
const writeTerms = `
  INSERT INTO acceptance_terms (unit_type_id, complete, assembled, cracks, holes, heat, weld, full_credit_minor)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8)
  ON CONFLICT (unit_type_id) DO UPDATE
     SET complete = excluded.complete, assembled = excluded.assembled, cracks = excluded.cracks, holes = excluded.holes, heat = excluded.heat,
         weld = excluded.weld, full_credit_minor = excluded.full_credit_minor, version = acceptance_terms.version + 1`;
const clearShares = 'DELETE FROM acceptance_shares WHERE unit_type_id = $1';
const writeShares = `
  INSERT INTO acceptance_shares (unit_type_id, position, share)
  SELECT $1, position, share FROM unnest($2::smallint[], $3::numeric[]) AS each (position, share)`;

/** Says what is asked of a core of a type. What was judged before keeps what it was judged by. */
export async function editAcceptanceTerms(
  transaction: Transaction,
  unitTypeId: string,
  input: EditAcceptanceTerms,
): Promise<Result<AcceptanceTerms>> {
  await transaction.row(lockType, [unitTypeId]);
  const before = await acceptanceTerms(transaction, unitTypeId);
  if (before === null) return refused(notFound('That unit type'));
  const unseen = whyNotCurrent(transaction.command, before);
  if (unseen !== null) return refused(unseen);
  const components = await typeComponents(transaction, unitTypeId);
  const shares = readShares(input.shares, new Map(components.map(({ position, name }) => [position, name])));
  if (!shares.ok) return shares;
  const credit = input.fullCredit === '' ? null : parseMoney(input.fullCredit, before.currency);
  if (credit !== null && !credit.ok) return refused(badInput('fullCredit', credit.error.sentence));
  const { complete, assembled, cracks, holes, heat, weld } = input.points;
  const words = [complete, assembled, cracks, holes, heat, weld];
  await transaction.rows(writeTerms, [unitTypeId, ...words, credit === null ? null : credit.value.toString()]);
  await transaction.rows(clearShares, [unitTypeId]);
  await transaction.rows(writeShares, [unitTypeId, [...shares.value.keys()], [...shares.value.values()].map(formatDecimal)]);
  transaction.news('settings', 'stores');
  const after = await acceptanceTerms(transaction, unitTypeId);
  invariant(after, 'a type that was locked is there');
  return done(after);
}

/** Shares by the positions of components; together they are at most a hundred percent. */
function readShares(keyed: EditAcceptanceTerms['shares'], names: ReadonlyMap<number, string>): Result<Map<number, Decimal>> {
  const shares = new Map<number, Decimal>();
  for (const [index, { position, share }] of keyed.entries()) {
    const path = `shares.${index}.share`;
    const name = names.get(position);
    if (name === undefined)
      return refused(badInput(path, `This type has no component ${position} in the books. Leave its share out.`));
    if (shares.has(position)) return refused(badInput(path, `${name} has a share already. Say it once.`));
    const read = parseQuantity(share);
    if (!read.ok) return refused(badInput(path, `${name}: ${read.error.sentence}`));
    if (read.value <= zero)
      return refused(badInput(path, `${name}: a share is more than nought. Leave it empty if nothing hangs on it.`));
    shares.set(position, read.value);
  }
  if (restOfShares([...shares.values()]) >= zero) return done(shares);
  const sum = formatDecimal(sumDecimals(shares.values()));
  return refused(
    badInput(
      'shares',
      `The shares are ${sum} percent together, and a core is 100. Take some away; what is left is the casing and the rest.`,
    ),
  );
}
