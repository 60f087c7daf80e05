import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import { type Decimal, decimalFrom, subtractDecimals, sumDecimals, zero } from '@corewright/quantities/decimal';
import type { Money } from '@corewright/quantities/money';
import type { Reader } from '../../platform/database/database.js';
import { countDifferenceId, regroupingId } from '../ledger.js';
import { codeOf, holderWords, thingFacts, thingName } from '../place-words.js';
import { carriedCosts, netOf, type WentOn } from './carried-costs.js';
import { entriesOf } from './value-ledger.js';

/** So much of a thing at one holder, or gone on as another lot. */
export interface Part {
  words: string;
  quantity: Decimal;
  /** the lot that it went on as: taken out of a unit, split off, or made part of; null where it is still this thing */
  wentOnAs: string | null;
}

interface Held extends Record<string, unknown> {
  thingId: string;
  holderId: string;
  words: string;
  quantity: string;
}

interface StepRow extends Record<string, unknown> {
  from: string;
  to: string;
  kind: WentOn['kind'];
  quantity: string;
}

export interface Origin {
  id: string;
  code: LabelCode;
  name: string;
}

export interface Cost {
  /** null where nobody knows */
  amount: Money | null;
  /** the lot that this one was, or was part of, where the cost is part of that lot's */
  carriedFrom: (Origin & { kind: Exclude<WentOn['kind'], 'merged'> }) | null;
  /** the lots that became part of this one, whose cost it bears */
  mergedIn: readonly Origin[];
  /** all that there is of it, wherever it is now: over these its cost is divided */
  parts: readonly Part[];
}

/**
 * How many a lot began with that was taken out of a unit: a count put right later is no part of the lot that it was. So went on, in older books,
 * a container that was opened; by now that is split off.
 */
const wentOnSteps = `
  SELECT taken_from_lot_id AS from_id, lots.thing_id AS to_id, CASE WHEN fitted_once THEN 'taken out' ELSE 'opened' END AS kind, first.quantity, first.sequence
    FROM lots JOIN LATERAL (SELECT quantity, sequence FROM movements WHERE movements.thing_id = lots.thing_id ORDER BY sequence LIMIT 1) AS first ON true
   WHERE taken_from_lot_id IS NOT NULL
   UNION ALL
  SELECT from_lot_id, to_lot_id, kind, lot_regroupings.quantity, movements.sequence
    FROM lot_regroupings JOIN movements ON movements.id = out_movement_id`;
const kin = `
  SELECT taken_from_lot_id AS one, thing_id AS other FROM lots WHERE taken_from_lot_id IS NOT NULL
   UNION ALL SELECT from_lot_id, to_lot_id FROM lot_regroupings`;
/** Every lot that a lot's goods came from or went on as, and their goods in turn, with itself. */
const selectFamily = `
  WITH RECURSIVE family AS (
    SELECT $1::uuid AS id
    UNION SELECT CASE WHEN kin.one = family.id THEN kin.other ELSE kin.one END FROM family JOIN (${kin}) AS kin ON family.id IN (kin.one, kin.other))
  SELECT id FROM family ORDER BY id`;
const selectSteps = `
  SELECT from_id AS "from", to_id AS "to", kind, quantity FROM (${wentOnSteps}) AS steps
   WHERE from_id = ANY ($1::uuid[]) ORDER BY sequence, to_id`;
const selectHeld = `
  SELECT thing_id AS "thingId", balances.holder_id AS "holderId", coalesce(${holderWords('holders.id', 'holders.kind')}, '') AS words, quantity
    FROM balances JOIN holders ON holders.id = holder_id
   WHERE thing_id = ANY ($1::uuid[]) AND quantity > 0 AND holder_id <> '${regroupingId}' ORDER BY counts DESC, quantity DESC, holder_id`;
const selectNames = `
  SELECT things.id, ${codeOf('things.id')} AS code, ${thingName} AS name FROM things ${thingFacts} WHERE things.id = ANY ($1::uuid[])`;

/**
 * What a thing cost: the sum of its entries. A lot that was taken out of a unit or split off carries its part of the cost of the lot that it
 * was, and one that another became part of bears that one's too; so all of them follow when a cost is shared anew.
 */
export async function costOf(reader: Reader, thingId: string): Promise<Cost> {
  const ids = (await reader.rows<{ id: string }>(selectFamily, [thingId])).map(({ id }) => id);
  const [entries, held, steps] = await Promise.all([
    entriesOf(reader, ids),
    reader.rows<Held>(selectHeld, [ids]),
    reader.rows<StepRow>(selectSteps, [ids]),
  ]);
  const wentOn = steps.map(({ quantity, ...step }): WentOn => ({ ...step, quantity: decimalFrom(quantity) }));
  const here = new Map(ids.map((id) => [id, partsHere(id, held, wentOn)]));
  const costs = carriedCosts(
    ids.map((id) => ({ id, own: entries.get(id) ?? null, here: (here.get(id) ?? []).map(({ quantity }) => quantity) })),
    wentOn,
  );
  const names = new Map((await reader.rows<Origin & Record<string, unknown>>(selectNames, [ids])).map((lot) => [lot.id, lot]));
  const gone = netOf(wentOn)
    .filter(({ from }) => from === thingId)
    .map(({ to, kind, quantity }) => ({ words: goesOnWords(kind, names.get(to)), quantity, wentOnAs: to }));
  const began = wentOn.find((step) => step.to === thingId && step.kind !== 'merged');
  const origin = began === undefined || entries.has(thingId) ? undefined : names.get(began.from);
  const mergedIds = new Set(wentOn.filter((step) => step.to === thingId && step.kind === 'merged').map(({ from }) => from));
  return {
    amount: costs.get(thingId) ?? null,
    carriedFrom: began === undefined || began.kind === 'merged' || origin === undefined ? null : { ...origin, kind: began.kind },
    mergedIn: [...mergedIds].flatMap((id) => names.get(id) ?? []),
    parts: [...(here.get(thingId) ?? []), ...gone],
  };
}

/** What is taken out of a unit, or was opened in older books, ends and begins anew through the count, where it must not be found a second time. */
function partsHere(id: string, held: readonly Held[], wentOn: readonly WentOn[]): Part[] {
  const through = sumDecimals(
    wentOn
      .filter((step) => step.from === id && (step.kind === 'taken out' || step.kind === 'opened'))
      .map(({ quantity }) => quantity),
  );
  return held
    .filter(({ thingId }) => thingId === id)
    .map(({ holderId, words, quantity }) => ({
      words,
      quantity: subtractDecimals(decimalFrom(quantity), holderId === countDifferenceId ? through : zero),
      wentOnAs: null,
    }))
    .filter(({ quantity }) => quantity > zero);
}

function goesOnWords(kind: WentOn['kind'], to: Origin | undefined): string {
  const lot = to === undefined ? 'another lot' : formatCode(to.code);
  if (kind === 'merged') return `part of ${lot}`;
  return `${kind === 'taken out' ? 'taken out again' : kind === 'split' ? 'split off' : kind}, goes on as ${lot}`;
}
