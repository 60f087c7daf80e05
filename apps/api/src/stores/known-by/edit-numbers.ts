import type { EditKnownNumbers, KnownBy } from '@corewright/contracts/identify';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../../platform/commands/version-seen.js';
import { badInput, done, invariant, notFound, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { knownByOf } from './known-by.queries.js';

const lockType = 'SELECT 1 AS there FROM unit_types WHERE id = $1 FOR NO KEY UPDATE';
const clearSerials = 'DELETE FROM unit_type_serials WHERE unit_type_id = $1';
const clearTeeth = 'DELETE FROM unit_type_teeth WHERE unit_type_id = $1';
const insertSerials = `
  INSERT INTO unit_type_serials (unit_type_id, number, prefix, first, last)
  SELECT $1, number, prefix, first, last
    FROM unnest($2::text[], $3::integer[], $4::integer[]) WITH ORDINALITY AS each (prefix, first, last, number)`;
const insertTeeth = `
  INSERT INTO unit_type_teeth (unit_type_id, gear, mesh, driver, driven)
  SELECT $1, gear, mesh, driver, driven FROM unnest($2::text[], $3::smallint[], $4::smallint[], $5::smallint[]) AS each (gear, mesh, driver, driven)`;
const touch = 'UPDATE unit_types SET numbers_version = numbers_version + 1 WHERE id = $1';

/** Writes anew which serial numbers and which teeth a type has. */
export async function editKnownNumbers(
  transaction: Transaction,
  unitTypeId: string,
  input: EditKnownNumbers,
): Promise<Result<KnownBy>> {
  await transaction.row(lockType, [unitTypeId]);
  const before = await knownByOf(transaction, unitTypeId);
  if (before === null) return refused(notFound('That unit type'));
  const unseen = whyNotCurrent(transaction.command, before);
  if (unseen !== null) return refused(unseen);
  const fault = faultOf(input);
  if (fault !== null) return refused(fault);
  await write(transaction, unitTypeId, input);
  transaction.news('settings', 'stores');
  const after = await knownByOf(transaction, unitTypeId);
  invariant(after, 'a type that was locked is there');
  return done(after);
}

async function write(transaction: Transaction, unitTypeId: string, { serials, gears }: EditKnownNumbers): Promise<void> {
  const teeth = gears.flatMap(({ gear, meshes }) => meshes.map((mesh, index) => ({ gear, mesh: index + 1, ...mesh })));
  await transaction.rows(clearSerials, [unitTypeId]);
  await transaction.rows(clearTeeth, [unitTypeId]);
  await transaction.rows(insertSerials, [
    unitTypeId,
    serials.map(({ prefix }) => prefix),
    serials.map(({ first }) => first),
    serials.map(({ last }) => last),
  ]);
  await transaction.rows(insertTeeth, [
    unitTypeId,
    teeth.map(({ gear }) => gear),
    teeth.map(({ mesh }) => mesh),
    teeth.map(({ driver }) => driver),
    teeth.map(({ driven }) => driven),
  ]);
  await transaction.rows(touch, [unitTypeId]);
}

/** A type has one ratio without a name, or several by their names. */
function faultOf({ serials, gears }: EditKnownNumbers): Refusal | null {
  for (const [index, { first, last }] of serials.entries())
    if (last < first) return badInput(`serials.${index}.last`, 'This is less than the first. Key the lower number first.');
  const seen = new Set<string>();
  for (const [index, { gear }] of gears.entries()) {
    const key = gear.toLowerCase();
    if (gear === '' && gears.length > 1)
      return badInput(`gears.${index}.gear`, 'There are several gears: say which one each is.');
    if (seen.has(key)) return badInput(`gears.${index}.gear`, `The gear ${gear} is there twice. Name each once.`);
    seen.add(key);
  }
  return null;
}
