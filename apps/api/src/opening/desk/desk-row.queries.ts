import type { DeskRow, OpeningWorth } from '@corewright/contracts/opening-stock';
import { formatMoney, type Money } from '@corewright/quantities/money';
import { oursOf } from '../../people/workshop.js';
import type { Reader } from '../../platform/database/database.js';
import { thingRow } from '../../stores/thing.queries.js';
import { openingRow } from '../opening-row.queries.js';

const selectCost = 'SELECT cost_minor::text AS cost FROM opening_rows WHERE thing_id = $1';

/** A row with all that is said of it at the desk; null where there is none. */
export async function deskRow(reader: Reader, rowId: string): Promise<DeskRow | null> {
  const row = await openingRow(reader, rowId);
  const thing = await thingRow(reader, rowId);
  const kept = await reader.row<{ cost: string | null }>(selectCost, [rowId]);
  if (row === null || thing === null || kept === null) return null;
  const currency = await oursOf(reader);
  const isLot = thing.kind === 'L';
  return {
    ...row,
    source: isLot ? thing.source : null,
    make: isLot ? thing.make : null,
    maker: thing.makerName,
    condition: thing.condition,
    grade: thing.grade,
    packetRead: isLot ? thing.packetRead : '',
    packetCondition: isLot ? thing.packetCondition : null,
    cost: kept.cost === null ? null : formatMoney(BigInt(kept.cost) as Money, currency),
    currency,
  };
}

/** What waits at the desk: a name, or a cost that nobody has looked at. What is a customer’s is no cost of ours. */
export const waits = `
  (rows.standing = 'to name' OR (rows.standing = 'named' AND rows.cost_standing = 'not looked at' AND things.owner_id IS NULL))`;

const countLeft = `SELECT count(*)::integer AS left FROM opening_rows AS rows JOIN things ON things.id = rows.thing_id WHERE ${waits}`;

export async function leftAtDesk(reader: Reader): Promise<number> {
  return (await reader.row<{ left: number }>(countLeft))?.left ?? 0;
}

const sums = `
  SELECT coalesce(sum(cost_minor), 0)::text AS known, coalesce(sum(cost_minor) FILTER (WHERE cost_standing = 'estimate'), 0)::text AS estimated,
         (count(*) FILTER (WHERE cost_standing = 'figure'))::integer AS figures, (count(*) FILTER (WHERE cost_standing = 'estimate'))::integer AS estimates,
         (count(*) FILTER (WHERE cost_standing = 'unknown'))::integer AS unknown,
         (count(*) FILTER (WHERE cost_standing = 'not looked at'))::integer AS "notLookedAt"
    FROM opening_rows AS rows JOIN things ON things.id = rows.thing_id WHERE standing <> 'struck out' AND owner_id IS NULL`;

type Sums = Omit<OpeningWorth, 'currency' | 'known' | 'ofThatEstimated'> & { known: string; estimated: string };

/** What opening stock cost as far as anybody knows, and of how much nobody does. */
export async function openingWorth(reader: Reader): Promise<OpeningWorth> {
  const currency = await oursOf(reader);
  const row = await reader.row<Sums & Record<string, unknown>>(sums);
  const { known, estimated, ...counts } = row ?? {
    known: '0',
    estimated: '0',
    figures: 0,
    estimates: 0,
    unknown: 0,
    notLookedAt: 0,
  };
  const money = (minor: string) => formatMoney(BigInt(minor) as Money, currency);
  return { currency, known: money(known), ofThatEstimated: money(estimated), ...counts };
}
