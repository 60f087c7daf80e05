import type { CountEntered, EnterCount } from '@corewright/contracts/counting';
import { type Decimal, decimalFrom, formatDecimal, one, zero } from '@corewright/quantities/decimal';
import { checkQuantity } from '@corewright/quantities/unit-of-measure';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { badInput, done, type Result, refused } from '../../platform/refusal.js';
import { lockOf } from '../../stores/ledger.js';
import { foundAgain } from '../../stores/not-there/found-again.js';
import { mostHeld, type ThingCounted, thingScanned } from '../counted-thing.js';
import { type CountRow, lockCountAt, type PlaceCounted, placeToCount } from '../open-count.js';
import { takingsOf, writeTaking } from '../take-place/take-place.handler.js';
import { dateOf } from './date-of-entry.js';
import { isOdd } from './plausible.js';
import { type Before, readBefore, whyNotLook } from './second-look.js';

const insertEntry = `
  INSERT INTO count_entries (id, count_id, command_key, place_id, thing_id, quantity, asked, person_id, occurred_at, said_at, in_own_name)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, least($9::timestamptz, clock_timestamp()), $10, $11)`;
const isMissing = 'SELECT 1 AS there FROM things WHERE id = $1 AND missing_since IS NOT NULL';

type Asks = CountEntered['asks'];
const askedOf: Record<Asks, string> = { nothing: '', 'how many': 'how many', 'once more': 'once more' };

/** A thing was scanned where it lies, and counted. The answer never says whether the books agree. */
@Injectable()
export class EnterHandler {
  async handle(transaction: Transaction, input: EnterCount): Promise<Result<CountEntered>> {
    const thing = await thingScanned(transaction, input.code);
    if (!thing.ok) return thing;
    const place = await placeToCount(transaction, input.placeId);
    if (!place.ok) return place;
    const count = await lockCountAt(transaction, place.value, input.countId, 'shared');
    if (!count.ok) return count;
    const { partId, partName, number, begunAt } = count.value;
    if (partId !== null && thing.value.partId !== partId) return refused(ofAnotherPart(number, partName ?? '', thing.value));
    const quantity = quantityOf(thing.value, input.quantity);
    if (!quantity.ok) return quantity;
    const said = input.occurredAt ?? transaction.command.madeAt;
    const dated = dateOf({ said, now: new Date(), begunAt, knownSince: thing.value.knownSince });
    if (!dated.ok) return dated;
    const before = await readBefore(transaction, count.value.id, place.value.id, thing.value.id);
    const { inOwnName } = input;
    const looks = await whyNotLook(transaction, [before], { inOwnName, how: 'Scan it again to count it once more' });
    if (looks.refusal !== null) return refused(looks.refusal);
    const { isInOwnName } = looks;
    const scene = { count: count.value, place: place.value, thing: thing.value, quantity: quantity.value, before, isInOwnName };
    return enter(transaction, scene, { ...dated.value, said });
  }
}

interface Scene {
  count: CountRow;
  place: PlaceCounted;
  thing: ThingCounted;
  quantity: Decimal | null;
  before: Before;
  isInOwnName: boolean;
}

async function enter(
  transaction: Transaction,
  { count, place, thing, quantity, before, isInOwnName }: Scene,
  dated: { at: string; words: string; said: string | null },
): Promise<Result<CountEntered>> {
  const { key, person } = transaction.command;
  const last = before.entries.filter(({ personId }) => personId === person.id).at(-1);
  const asks = await asksFor(transaction, thing, quantity, last);
  const id = newId();
  await transaction.rows(insertEntry, [
    id,
    count.id,
    key,
    place.id,
    thing.id,
    quantity === null ? null : formatDecimal(quantity),
    askedOf[asks],
    person.id,
    dated.at,
    dated.said,
    isInOwnName,
  ]);
  await joinPlace(transaction, count.id, place.id, dated.at);
  transaction.news('counts');
  const again = await foundInCount(transaction, thing.id, `counted in ${place.path}`);
  const amount = quantity === null ? null : formatDecimal(quantity);
  const ownName = isInOwnName ? 'In your own name: everybody had looked before.' : '';
  const words = [wordsOf(asks, thing, amount, place.path), ownName, insteadOf(last, amount), again, dated.words];
  return done({
    actId: id,
    act: 'counted',
    thing: { id: thing.id, code: thing.code, name: thing.name },
    quantity: amount,
    asks,
    words: words.filter(Boolean).join(' '),
  });
}

/** Whoever counts where another does has joined, whether or not they said so: nothing that was counted is lost. */
async function joinPlace(transaction: Transaction, countId: string, placeId: string, at: string): Promise<void> {
  const takings = await takingsOf(transaction, countId, placeId);
  const isThere = takings.some(({ personId }) => personId === transaction.command.person.id);
  if (!isThere) await writeTaking(transaction, countId, placeId, { joined: takings.length > 0, at });
}

async function foundInCount(transaction: Transaction, thingId: string, how: string): Promise<string | null> {
  if ((await transaction.row(isMissing, [thingId])) === null) return null;
  const locked = await lockOf(transaction, thingId);
  return locked === null ? null : foundAgain(transaction, locked, how);
}

async function asksFor(
  transaction: Transaction,
  thing: ThingCounted,
  quantity: Decimal | null,
  last: Before['entries'][number] | undefined,
): Promise<Asks> {
  if (quantity === null) return 'how many';
  if (thing.kind !== 'L') return 'nothing';
  if (!isOdd(quantity, await mostHeld(transaction, thing.id), thing.code)) return 'nothing';
  const isKeyedTwice = last?.asked === 'once more' && last.quantity !== null && decimalFrom(last.quantity) === quantity;
  return isKeyedTwice ? 'nothing' : 'once more';
}

/** A single thing is one; of a lot nobody knows how many until a number is keyed. */
function quantityOf({ kind, unitOfMeasure }: ThingCounted, keyed: string | undefined): Result<Decimal | null> {
  if (keyed === undefined) return done(kind === 'L' ? null : one);
  const quantity = decimalFrom(keyed);
  if (kind !== 'L')
    return quantity === one
      ? done(one)
      : refused(
          badInput(
            'quantity',
            'It bears a tag of its own, so there is one of it. Scan it without a number; what else lies there is scanned by itself.',
          ),
        );
  if (quantity === zero) return done(zero);
  const checked = checkQuantity(keyed, unitOfMeasure);
  return checked.ok ? done(checked.value) : refused(badInput('quantity', checked.error.sentence));
}

function wordsOf(asks: Asks, { name, kind }: ThingCounted, amount: string | null, path: string): string {
  if (asks === 'how many') return `${name}, in ${path}. How many? Key the number.`;
  if (asks === 'once more') return `${name}, ${amount}, in ${path}. Key the number once more, to be sure.`;
  return `${name}${kind === 'L' ? `, ${amount}` : ''}: counted in ${path}.`;
}

/** What a person has keyed before at the same place is not added to it. */
function insteadOf(last: Before['entries'][number] | undefined, amount: string | null): string {
  if (last?.quantity === undefined || last.quantity === null || amount === null || last.asked === 'once more') return '';
  const before = formatDecimal(decimalFrom(last.quantity));
  return before === amount
    ? ''
    : `You had counted ${before} of it here, and ${amount} stand now: where there are both, key what they come to.`;
}

function ofAnotherPart(number: number, partName: string, { name }: ThingCounted) {
  return {
    status: 409,
    code: 'another-part',
    title: 'Another part',
    detail: `Count ${number} is of ${partName}, and this is ${name}. It was not counted; a count of the place takes everything that lies there.`,
  };
}
