import type { BeginCount, CountPage } from '@corewright/contracts/counting';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { CountPages } from '../count-page.js';
import { openCountAt, placeToCount } from '../open-count.js';

const partIsThere = 'SELECT 1 AS there FROM parts WHERE id = $1';
const countIsThere = 'SELECT 1 AS there FROM counts WHERE id = $1';
const openOfPart = 'SELECT id, number FROM counts WHERE part_id = $1 AND ended_at IS NULL';
const numberOf = 'SELECT number FROM counts WHERE id = $1';
const insertCount = `
  INSERT INTO counts (id, command_key, place_id, part_id, person_id, begun_at) VALUES ($1, $2, $3, $4, $5, $6) RETURNING number`;
/** Of two who begin a count at once the second finds that of the first. */
const oneAtATime = "SELECT pg_advisory_xact_lock(hashtext('counts begun'))";

/** Begins a count of a place with what is inside it, or of a part wherever it lies. */
@Injectable()
export class BeginCountHandler {
  constructor(private readonly pages: CountPages) {}

  async handle(transaction: Transaction, input: BeginCount): Promise<Result<CountPage>> {
    await transaction.rows(oneAtATime);
    if (await transaction.row(countIsThere, [input.id]))
      return refused(badInput('id', 'A count with this id is in the books already.'));
    const barred =
      input.placeId === null
        ? await whyNotPart(transaction, input.partId as string)
        : await whyNotPlace(transaction, input.placeId);
    if (!barred.ok) return barred;
    await addCount(transaction, input.id, input, input.occurredAt);
    const page = await this.pages.of(transaction, input.id, transaction.command.person);
    invariant(page, 'a count that was just begun is there');
    return done(page);
  }
}

async function whyNotPart(transaction: Transaction, partId: string): Promise<Result<null>> {
  if ((await transaction.row(partIsThere, [partId])) === null) return refused(notFound('This part'));
  const open = await transaction.row<{ number: number }>(openOfPart, [partId]);
  return open === null ? done(null) : refused(underWay(open.number));
}

async function whyNotPlace(transaction: Transaction, placeId: string): Promise<Result<null>> {
  const place = await placeToCount(transaction, placeId);
  if (!place.ok) return place;
  const openId = await openCountAt(transaction, placeId);
  if (openId === null) return done(null);
  const open = await transaction.row<{ number: number }>(numberOf, [openId]);
  return refused(underWay(open?.number ?? 0));
}

function underWay(number: number) {
  return {
    status: 409,
    code: 'count-under-way',
    title: 'It is being counted',
    detail: `Count ${number} is of this, and is still open. Open it and count there. Nothing was changed.`,
  };
}

/**
 * Writes a count. @returns its number
 * @param saidAt when the device says that it began; it began no later than now
 */
export async function addCount(
  transaction: Transaction,
  id: string,
  of: { placeId: string | null; partId: string | null },
  saidAt: string | undefined,
): Promise<number> {
  const { key, person, madeAt } = transaction.command;
  const said = Date.parse(saidAt ?? madeAt ?? new Date().toISOString());
  const begunAt = new Date(Math.min(said, Date.now())).toISOString();
  const row = await transaction.row<{ number: number }>(insertCount, [id, key, of.placeId, of.partId, person.id, begunAt]);
  invariant(row, 'a count that was written has a number');
  transaction.news('counts', 'today');
  return row.number;
}

/** Whoever begins a count waits for others who do. */
export async function beginAlone(transaction: Transaction): Promise<void> {
  await transaction.rows(oneAtATime);
}
