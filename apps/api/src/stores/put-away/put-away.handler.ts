import type { Coded } from '@corewright/contracts/base';
import type { PutAway, PutAwayDone } from '@corewright/contracts/stores';
import { type Decimal, decimalFrom, formatDecimal, lesserDecimal, zero } from '@corewright/quantities/decimal';
import { checkQuantity, type UnitOfMeasure } from '@corewright/quantities/unit-of-measure';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { done, invariant, type Result, refused } from '../../platform/refusal.js';
import { readCode, whyNothingOpens } from '../../scanning/resolve-code.js';
import { othersOfPart } from '../alike/alike.queries.js';
import { sayOthersElsewhere } from '../alike/say-alike.js';
import { whyDatedBefore } from '../dated-before.js';
import { type Balance, type LockedThing, lockByCode, move, whereIs, whereIsByCode } from '../ledger.js';
import { foundAgain } from '../not-there/found-again.js';
import { type PlaceForGoods, placeForGoods } from '../place-for-goods.js';
import { factsOfKind, nameOfKind } from '../place-words.js';
import { holdingsOf } from '../thing.queries.js';
import { decideAmount, nothingToPutAway } from './decide-put-away.js';
import { restOfSet, sayRestOfSet } from './rest-of-set.js';

type ThingKind = keyof typeof factsOfKind;

interface ThingRow extends Record<string, unknown> {
  id: string;
  name: string;
  unitOfMeasure: UnitOfMeasure;
}

const thingByCode = (kind: ThingKind): string => `
  SELECT things.id, ${nameOfKind[kind]} AS name, ${kind === 'L' ? "coalesce(parts.unit_of_measure, 'each')" : "'each'"} AS "unitOfMeasure"
    FROM codes JOIN things ON things.id = codes.subject_id ${factsOfKind[kind]} WHERE codes.code = $1 AND codes.voided_at IS NULL`;
const thingsByCode: Record<ThingKind, string> = {
  U: thingByCode('U'),
  L: thingByCode('L'),
  C: thingByCode('C'),
  X: thingByCode('X'),
};

/** Puts a thing away in a place: all of it that lies elsewhere with us, or so many. */
@Injectable()
export class PutAwayHandler {
  async handle(transaction: Transaction, input: z.infer<typeof PutAway>): Promise<Result<z.infer<typeof PutAwayDone>>> {
    const read = readCode(input.code, ['U', 'L', 'C', 'X']);
    if (!read.ok) return read;
    const { code } = read.value;
    const kind = read.value.kind as ThingKind;
    // all of it in one message, the lock first
    const [locked, balances, thing, place, others, fellows] = await Promise.all([
      lockByCode(transaction, code),
      whereIsByCode(transaction, code),
      transaction.row<ThingRow>(thingsByCode[kind], [code]),
      placeForGoods(transaction, input.placeId),
      kind === 'L' ? othersOfPart(transaction, code) : [],
      kind === 'X' ? [] : restOfSet(transaction, code),
    ]);
    if (!thing || !locked) return refused(await whyNothingOpens(transaction, read.value));
    if (!place.ok) return place;
    const { id: placeId, path } = place.value;
    const named = { id: thing.id, code, name: thing.name };
    if (isFoundWhereItLies(locked, balances, placeId)) return found(transaction, locked, { ...named, place: place.value });
    const wanted = input.quantity === undefined ? null : checkQuantity(input.quantity, thing.unitOfMeasure);
    if (wanted && !wanted.ok)
      return refused({ status: 422, code: 'bad-input', title: 'Not a quantity', detail: wanted.error.sentence });
    const elsewhere = balances.filter((balance) => balance.counts && balance.holderId !== placeId);
    const amount = decideAmount({ elsewhere, wanted: wanted?.value ?? null });
    if (!amount.ok) return amount;
    if (amount.value === null) return refused(nothingToPutAway(path, await holdingsOf(transaction, thing.id)));
    const dated = await whyDatedBefore(transaction, code, input.occurredAt);
    if (dated !== null) return refused(dated);
    const actId = moveFrom(transaction, {
      thingId: thing.id,
      elsewhere,
      quantity: amount.value,
      placeId,
      occurredAt: input.occurredAt,
    });
    transaction.news('today');
    const quantity = formatDecimal(amount.value);
    const words = [
      `${thing.name}${kind === 'L' ? `, ${quantity}` : ''}: now in ${path}.`,
      await foundAgain(transaction, locked, `put away in ${path}`),
      sayRestOfSet(fellows, placeId),
      sayOthersElsewhere(others, placeId),
      placeAndHold(place.value, locked),
    ];
    return done({ actId, act: 'put away', thing: named, quantity, words: words.filter(Boolean).join(' ') });
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
  { place, ...thing }: Coded & { place: PlaceForGoods },
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
  thingId: string;
  elsewhere: readonly Balance[];
  quantity: Decimal;
  placeId: string;
  occurredAt: string | undefined;
}

/** Takes from the shelves before the trays: what is in a tray was picked on purpose. */
function moveFrom(transaction: Transaction, { thingId, elsewhere, quantity, placeId, occurredAt }: Moving): string {
  let left = quantity;
  let actId: string | null = null;
  for (const balance of elsewhere.toSorted((a, b) => Number(a.kind === 'tray') - Number(b.kind === 'tray'))) {
    const part = lesserDecimal(left, decimalFrom(balance.quantity));
    if (part <= zero) continue;
    actId = move(transaction, {
      thingId,
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
