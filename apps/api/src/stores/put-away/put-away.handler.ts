import type { Coded } from '@corewright/contracts/base';
import type { PutAway, PutAwayDone } from '@corewright/contracts/stores';
import { type Decimal, decimalFrom, formatDecimal, lesserDecimal, sumDecimals, zero } from '@corewright/quantities/decimal';
import { checkQuantity, type UnitOfMeasure } from '@corewright/quantities/unit-of-measure';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { done, invariant, notFound, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { readCode, whyNothingOpens } from '../../scanning/resolve-code.js';
import { type Balance, type LockedThing, lockOf, move, whereIs } from '../ledger.js';
import { foundAgain } from '../not-there/found-again.js';
import { thingFacts, thingName } from '../place-words.js';

interface ThingRow extends Record<string, unknown> {
  id: string;
  name: string;
  kind: 'U' | 'L' | 'C' | 'X';
  unitOfMeasure: UnitOfMeasure;
}

const thingByCode = `
  SELECT things.id, things.kind, ${thingName} AS name, coalesce(parts.unit_of_measure, 'each') AS "unitOfMeasure"
    FROM codes JOIN things ON things.id = codes.subject_id ${thingFacts} WHERE codes.code = $1 AND codes.voided_at IS NULL`;
const placeById = 'SELECT holder_id AS id, path, kind FROM places WHERE holder_id = $1';

/** Puts a thing away in a place: all of it that lies elsewhere with us, or so many. */
@Injectable()
export class PutAwayHandler {
  async handle(transaction: Transaction, input: z.infer<typeof PutAway>): Promise<Result<z.infer<typeof PutAwayDone>>> {
    const read = readCode(input.code, ['U', 'L', 'C', 'X']);
    if (!read.ok) return read;
    const thing = await transaction.row<ThingRow>(thingByCode, [read.value.code]);
    if (!thing) return refused(await whyNothingOpens(transaction, read.value));
    const place = await transaction.row<{ id: string; path: string; kind: string }>(placeById, [input.placeId]);
    if (!place) return refused(notFound('This place'));
    if (place.kind === 'tray')
      return refused({
        status: 409,
        code: 'cannot-be-put-there',
        title: 'A job’s tray',
        detail: 'Parts come into a job’s tray by a pick, so that they are promised to the job. Scan the job card, then pick.',
      });
    const [locked, balances] = await Promise.all([lockOf(transaction, thing.id), whereIs(transaction, thing.id)]);
    invariant(locked, 'a thing with a live code is there');
    const named = { id: thing.id, code: read.value.code, name: thing.name };
    if (isFoundWhereItLies(locked, balances, place.id)) return found(transaction, locked, { ...named, place });
    const elsewhere = balances.filter((balance) => balance.counts && balance.holderId !== place.id);
    const there = sumDecimals(elsewhere.map((balance) => decimalFrom(balance.quantity)));
    const wanted = input.quantity === undefined ? null : checkQuantity(input.quantity, thing.unitOfMeasure);
    if (wanted && !wanted.ok)
      return refused({ status: 422, code: 'bad-input', title: 'Not a quantity', detail: wanted.error.sentence });
    const quantity = wanted?.value ?? there;
    if (there === zero) return refused(nothingToMove(place.path));
    if (quantity > there)
      return refused({
        status: 409,
        code: 'not-enough',
        title: 'Not so many',
        detail: `${formatDecimal(there)} of this lie elsewhere by the books, and ${formatDecimal(quantity)} were keyed. Nothing was changed.`,
      });
    const actId = moveFrom(transaction, { thing, elsewhere, quantity, placeId: place.id, occurredAt: input.occurredAt });
    transaction.news('today');
    const again = await foundAgain(transaction, locked, `put away in ${place.path}`);
    const amount = formatDecimal(quantity);
    return done({
      actId,
      act: 'put away',
      thing: named,
      quantity: amount,
      words: [
        `${thing.name}${thing.kind === 'L' ? `, ${amount}` : ''}: now in ${place.path}.`,
        again,
        placeAndHold(place, locked),
      ]
        .filter(Boolean)
        .join(' '),
    });
  }
}

/** The place is to match what may be done with a thing: a quarantine and a hold go together. */
function placeAndHold({ kind }: { kind: string }, { heldBackReason, condemned }: LockedThing): string | null {
  if (condemned) return kind === 'quarantine' ? null : 'It was condemned: a quarantine is the place for it.';
  if (kind === 'quarantine' && heldBackReason === null)
    return 'That is a quarantine, and it is not held back: where it may not be used, hold it back on its page.';
  if (kind !== 'quarantine' && heldBackReason !== null)
    return `It is held back: ${heldBackReason}. A quarantine is the place for it.`;
  return null;
}

/** It was missing, and lies where the books have had it all the while: nothing moves. */
function isFoundWhereItLies({ missingSince }: LockedThing, balances: readonly Balance[], placeId: string): boolean {
  if (missingSince === null) return false;
  const inPlaces = balances.filter(({ kind }) => kind === 'place');
  return inPlaces.length > 0 && inPlaces.every(({ holderId }) => holderId === placeId);
}

async function found(
  transaction: Transaction,
  locked: LockedThing,
  { place, ...thing }: Coded & { place: { id: string; path: string } },
): Promise<Result<z.infer<typeof PutAwayDone>>> {
  const again = await foundAgain(transaction, locked, `in ${place.path}, where the books have it`);
  const [here] = (await whereIs(transaction, thing.id)).filter(({ holderId }) => holderId === place.id);
  return done({
    actId: transaction.command.key,
    act: 'put away',
    thing,
    quantity: formatDecimal(decimalFrom(here?.quantity ?? '0')),
    words: `${thing.name}: in ${place.path}, where the books have it. ${again}`,
  });
}

interface Moving {
  thing: ThingRow;
  elsewhere: readonly Balance[];
  quantity: Decimal;
  placeId: string;
  occurredAt: string | undefined;
}

/** Takes from the shelves before the trays: what is in a tray was picked on purpose. */
function moveFrom(transaction: Transaction, { thing, elsewhere, quantity, placeId, occurredAt }: Moving): string {
  let left = quantity;
  let actId: string | null = null;
  for (const balance of elsewhere.toSorted((a, b) => Number(a.kind === 'tray') - Number(b.kind === 'tray'))) {
    const part = lesserDecimal(left, decimalFrom(balance.quantity));
    if (part <= zero) continue;
    actId = move(transaction, {
      thingId: thing.id,
      quantity: formatDecimal(part),
      fromHolderId: balance.holderId,
      toHolderId: placeId,
      reason: 'put away',
      occurredAt,
    });
    left = (left - part) as Decimal;
  }
  invariant(actId, 'something was put away');
  return actId;
}

function nothingToMove(path: string): Refusal {
  return {
    status: 409,
    code: 'nothing-to-put-away',
    title: 'Nothing to put away',
    detail: `By the books none of this lies with us outside ${path}. If it is in your hand, it may be fitted or sent out: look it up first. Nothing was changed.`,
  };
}
