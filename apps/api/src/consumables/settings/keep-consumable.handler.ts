import type { KeepConsumable } from '@corewright/contracts/consumables';
import { type Money, parseMoney } from '@corewright/quantities/money';
import { Injectable } from '@nestjs/common';
import { oursOf, WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../../platform/commands/version-seen.js';
import { newId } from '../../platform/new-id.js';
import { badInput, done, notFound, type Result, refused } from '../../platform/refusal.js';
import { type ConsumableRow, consumableOf, openContainersOf } from '../consumable.queries.js';
import { standingFlatCharges } from './flat-charges.queries.js';

const lockPart = 'SELECT unit_of_measure AS unit FROM parts WHERE id = $1 FOR NO KEY UPDATE';
const upsert = `
  INSERT INTO consumables (part_id, container, keeps_days, one_at_a_time, charged, use_minor, uses_per_container, currency)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8)
  ON CONFLICT (part_id) DO UPDATE SET container = EXCLUDED.container, keeps_days = EXCLUDED.keeps_days, one_at_a_time = EXCLUDED.one_at_a_time,
    charged = EXCLUDED.charged, use_minor = EXCLUDED.use_minor, uses_per_container = EXCLUDED.uses_per_container, currency = EXCLUDED.currency,
    withdrawn = false, version = consumables.version + 1`;
const insertFlat = `
  INSERT INTO consumable_flat_charges (id, command_key, part_id, unit_type_id, amount_minor, currency, for_jobs_from, person_id)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`;
const typesKnown = 'SELECT id FROM unit_types WHERE id = ANY ($1::uuid[])';
const withdraw = 'UPDATE consumables SET withdrawn = true, withdrawn_why = $2, version = version + 1 WHERE part_id = $1';

interface Amounts {
  useMinor: Money | null;
  /** by the unit type, empty for all others */
  flat: ReadonlyMap<string, Money>;
}

/** Says that a part is used up by the container, and how; or changes what was said. What was charged before stays as it was. */
@Injectable()
export class KeepConsumableHandler {
  constructor(private readonly clock: WorkshopClock) {}

  async handle(transaction: Transaction, partId: string, input: KeepConsumable): Promise<Result<{ partId: string }>> {
    const part = await transaction.row<{ unit: string }>(lockPart, [partId]);
    if (part === null) return refused(notFound('This part'));
    if (part.unit !== 'each')
      return refused(
        badInput('container', 'Containers are counted one by one. This part is measured: count it in "each" first.'),
      );
    const [known, currency, today] = await Promise.all([
      consumableOf(transaction, partId),
      oursOf(transaction),
      this.clock.today(transaction),
    ]);
    if (known !== null && !known.withdrawn) {
      const unseen = whyNotCurrent(transaction.command, known);
      if (unseen !== null) return refused(unseen);
    }
    const amounts = readAmounts(input, currency);
    if (!amounts.ok) return amounts;
    const barred = (await whyTypesUnknown(transaction, input)) ?? (await whySeveralOpen(transaction, partId, input, today));
    if (barred !== null) return barred;
    const { container, keepsDays, oneAtATime, charged, usesPerContainer } = input;
    const { useMinor, flat } = amounts.value;
    const perContainer = charged === 'by use' ? usesPerContainer : null;
    await transaction.rows(upsert, [
      partId,
      container,
      keepsDays,
      oneAtATime,
      charged,
      useMinor?.toString() ?? null,
      perContainer,
      currency,
    ]);
    await this.writeFlat(transaction, { partId, currency, from: input.flatFrom ?? today }, flat);
    toldOf(transaction, partId);
    return done({ partId });
  }

  /** Writes what changed of the flat charges; one that is no longer said ends by a row without an amount. */
  private async writeFlat(
    transaction: Transaction,
    { partId, currency, from }: { partId: string; currency: string; from: string },
    wanted: ReadonlyMap<string, Money>,
  ): Promise<void> {
    const standing = new Map((await standingFlatCharges(transaction, [partId])).map((row) => [row.unitTypeId ?? '', row]));
    const { key, person } = transaction.command;
    for (const type of new Set([...wanted.keys(), ...standing.keys()])) {
      const [now, before] = [wanted.get(type)?.toString() ?? null, standing.get(type)];
      if (now === (before?.amountMinor ?? null) && (now === null || before?.from === from)) continue;
      await transaction.rows(insertFlat, [newId(), key, partId, type === '' ? null : type, now, currency, from, person.id]);
    }
  }
}

/** A part is an ordinary one again. What was charged stays, and jobs opened from that day on are charged nothing by rule; nothing of it may be open. */
export async function withdrawConsumable(
  transaction: Transaction,
  known: ConsumableRow | null,
  { openCount, why, today }: { openCount: number; why: string; today: string },
): Promise<Result<{ partId: string }>> {
  if (known === null) return refused(notFound('This consumable'));
  const unseen = whyNotCurrent(transaction.command, known);
  if (unseen !== null) return refused(unseen);
  if (openCount > 0)
    return refused({
      status: 409,
      code: 'still-open',
      title: 'Something of it is open',
      detail: `${openCount === 1 ? 'One container is' : `${openCount} containers are`} open. Say of each that it is empty or thrown away, then try again. Nothing was changed.`,
    });
  await transaction.rows(withdraw, [known.partId, why]);
  const { key, person } = transaction.command;
  for (const { unitTypeId, currency } of await standingFlatCharges(transaction, [known.partId]))
    await transaction.rows(insertFlat, [newId(), key, known.partId, unitTypeId, null, currency, today, person.id]);
  toldOf(transaction, known.partId);
  return done({ partId: known.partId });
}

function readAmounts(input: KeepConsumable, currency: string): Result<Amounts> {
  const flat = new Map<string, Money>();
  if (input.charged === 'not at all') return done({ useMinor: null, flat });
  if (input.charged === 'flat') {
    for (const { unitTypeId, amount } of input.flat) {
      const read = parseMoney(amount, currency);
      if (!read.ok) return refused(badInput('flat', read.error.sentence));
      if (flat.has(unitTypeId ?? '')) return refused(badInput('flat', 'One unit type stands there twice. Give it one amount.'));
      flat.set(unitTypeId ?? '', read.value);
    }
    return flat.size > 0
      ? done({ useMinor: null, flat })
      : refused(badInput('flat', 'Key what a job is charged, for all or by unit type.'));
  }
  if ((input.useAmount === '') === (input.usesPerContainer === null))
    return refused(badInput('useAmount', 'Say either what a use costs, or how many uses a container gives: one of the two.'));
  if (input.useAmount === '') return done({ useMinor: null, flat });
  const read = parseMoney(input.useAmount, currency);
  return read.ok ? done({ useMinor: read.value, flat }) : refused(badInput('useAmount', read.error.sentence));
}

async function whyTypesUnknown(transaction: Transaction, { flat }: KeepConsumable): Promise<Result<never> | null> {
  const types = [...new Set(flat.flatMap(({ unitTypeId }) => unitTypeId ?? []))];
  const known = types.length === 0 ? [] : await transaction.rows(typesKnown, [types]);
  return known.length === types.length
    ? null
    : refused(badInput('flat', 'One of these unit types is not in the books. Choose it from the list.'));
}

async function whySeveralOpen(
  transaction: Transaction,
  partId: string,
  { oneAtATime }: KeepConsumable,
  today: string,
): Promise<Result<never> | null> {
  const open = oneAtATime ? await openContainersOf(transaction, [partId], today) : [];
  if (open.length < 2) return null;
  return refused(
    badInput(
      'oneAtATime',
      `${open.length} containers are open now. Say of all but one that they are empty or thrown away first.`,
    ),
  );
}

function toldOf(transaction: Transaction, partId: string): void {
  transaction.news('stores', 'jobs', 'today', `part:${partId}`);
}
