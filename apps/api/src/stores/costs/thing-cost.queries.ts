import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import { costsOfParts } from '@corewright/costing/share-cost';
import { type Decimal, decimalFrom, subtractDecimals, sumDecimals, zero } from '@corewright/quantities/decimal';
import type { Money } from '@corewright/quantities/money';
import type { Reader } from '../../platform/database/database.js';
import { countDifferenceId } from '../ledger.js';
import { codeOf, holderWords, thingFacts, thingName } from '../place-words.js';
import { entriesOf } from './value-ledger.js';

/** So much of a thing at one holder, or gone on as a lot of its own. */
export interface Part {
  words: string;
  quantity: Decimal;
  /** the lot that it went on as when it was taken out of a unit; null where it is still this thing */
  wentOnAs: string | null;
}

const selectHeld = `
  SELECT balances.holder_id AS "holderId", coalesce(${holderWords('holders.id', 'holders.kind')}, '') AS words, quantity
    FROM balances JOIN holders ON holders.id = holder_id
   WHERE thing_id = $1 AND quantity > 0 ORDER BY counts DESC, quantity DESC, holder_id`;
/** How many each of them began with: a count put right later is no part of the lot that it was. */
const selectWentOn = `
  SELECT lots.thing_id AS id, ${codeOf('lots.thing_id')} AS code, first.quantity, lots.fitted_once AS "fittedOnce"
    FROM lots JOIN LATERAL (SELECT quantity FROM movements WHERE movements.thing_id = lots.thing_id ORDER BY sequence LIMIT 1) AS first ON true
   WHERE taken_from_lot_id = $1 ORDER BY lots.thing_id`;

interface Held extends Record<string, unknown> {
  holderId: string;
  words: string;
  quantity: string;
}
interface WentOn extends Record<string, unknown> {
  id: string;
  code: LabelCode;
  quantity: string;
  fittedOnce: boolean;
}

/** All that there is of a thing, wherever it is now: over these its cost is divided. */
export async function partsOf(reader: Reader, thingId: string): Promise<Part[]> {
  const held = await reader.rows<Held>(selectHeld, [thingId]);
  const wentOn = await reader.rows<WentOn>(selectWentOn, [thingId]);
  const gone = wentOn.map(({ id, code, quantity, fittedOnce }) => ({
    words: `${fittedOnce ? 'taken out again, ' : ''}goes on as ${formatCode(code)}`,
    quantity: decimalFrom(quantity),
    wentOnAs: id,
  }));
  // What is taken out of a unit ends and begins anew through the count, where it must not be found a second time.
  const through = sumDecimals(gone.map((part) => part.quantity));
  const here = held.map(({ holderId, words, quantity }) => ({
    words,
    quantity: subtractDecimals(decimalFrom(quantity), holderId === countDifferenceId ? through : zero),
    wentOnAs: null,
  }));
  return [...here, ...gone].filter((part) => part.quantity > zero);
}

const selectTakenFrom = `
  SELECT things.id, ${codeOf('things.id')} AS code, ${thingName} AS name, taken.fitted_once AS "fittedOnce"
    FROM lots AS taken JOIN things ON things.id = taken.taken_from_lot_id ${thingFacts}
   WHERE taken.thing_id = $1`;

export interface Origin {
  id: string;
  code: LabelCode;
  name: string;
  /** it was fitted and taken out; else one was taken of a lot of several */
  fittedOnce: boolean;
}

export interface Cost {
  /** null where nobody knows */
  amount: Money | null;
  /** the lot that this one was before it was fitted, where the cost is part of that lot's */
  carriedFrom: Origin | null;
}

/**
 * What a thing cost: the sum of its entries. A lot that was taken out of a unit carries its part of the cost of the lot that it was, so
 * that it follows when the cost of that one is shared anew.
 */
export async function costOf(reader: Reader, thingId: string): Promise<Cost> {
  const own = (await entriesOf(reader, [thingId])).get(thingId);
  if (own !== undefined) return { amount: own, carriedFrom: null };
  const origin = await reader.row<Origin & Record<string, unknown>>(selectTakenFrom, [thingId]);
  if (origin === null) return { amount: null, carriedFrom: null };
  const { amount } = await costOf(reader, origin.id);
  if (amount === null) return { amount: null, carriedFrom: origin };
  const parts = await partsOf(reader, origin.id);
  const costs = costsOfParts(
    amount,
    parts.map((part) => part.quantity),
  );
  const mine = parts.findIndex((part) => part.wentOnAs === thingId);
  return { amount: costs[mine] ?? null, carriedFrom: origin };
}
