import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import type { Named } from '@corewright/contracts/base';
import type { CostEntry, SharingWay, ThingCost } from '@corewright/contracts/costs';
import { costsOfParts } from '@corewright/costing/share-cost';
import { formatDecimal } from '@corewright/quantities/decimal';
import { formatMoney, type Money } from '@corewright/quantities/money';
import { Injectable } from '@nestjs/common';
import { readWorkshop } from '../../people/workshop.js';
import type { Reader } from '../../platform/database/database.js';
import { invariant } from '../../platform/refusal.js';
import { CostGaps, LoadNames } from '../later-names.js';
import { codeOf, thingFacts, thingName } from '../place-words.js';
import { type ThingRow, thingRow } from '../thing.queries.js';
import { type Cost, costOf, type Part } from './thing-cost.queries.js';

const selectEntries = `
  SELECT cost_entries.id, cost_entries.recorded_at AS at, coalesce(people.display_name, '') AS by, kind, amount_minor::text AS amount,
         cost_entries.currency, load_id AS "loadId", cost_entries.why, cost_entries.whole_id AS "wholeId",
         ${codeOf('cost_entries.whole_id')} AS "wholeCode",
         (SELECT ${thingName} FROM things ${thingFacts} WHERE things.id = cost_entries.whole_id) AS "wholeName", bore_minor::text AS bore, way
    FROM cost_entries LEFT JOIN people ON people.id = cost_entries.person_id
    LEFT JOIN cost_passings ON cost_passings.id = cost_entries.passing_id
   WHERE thing_id = $1 ORDER BY cost_entries.sequence DESC`;

interface Entry extends Record<string, unknown> {
  id: string;
  at: string;
  by: string;
  kind: CostEntry['kind'];
  amount: string;
  currency: string;
  loadId: string | null;
  why: string;
  wholeId: string | null;
  wholeCode: LabelCode | null;
  wholeName: string | null;
  bore: string | null;
  way: SharingWay | null;
}

/** What a thing cost, as its page shows it to those who keep the books. */
@Injectable()
export class ThingCosts {
  constructor(
    private readonly loads: LoadNames,
    private readonly gaps: CostGaps,
  ) {}

  /** Null for what is not in the books. */
  async of(reader: Reader, thingId: string): Promise<ThingCost | null> {
    const row = await thingRow(reader, thingId);
    if (row === null) return null;
    const workshop = await readWorkshop(reader);
    invariant(workshop, 'a workshop was set up before it had things');
    const { currency } = workshop;
    const cost = await costOf(reader, thingId);
    const loadOf = await this.loads.namesOf(reader, [cost.carriedFrom?.id ?? thingId]);
    const load = [...loadOf.values()][0] ?? null;
    const entries = await reader.rows<Entry>(selectEntries, [thingId]);
    return {
      currency,
      amount: cost.amount === null ? null : formatMoney(cost.amount, currency),
      words: wordsOf(row, cost, load?.name ?? null, passedIn(entries, thingId)),
      notKnown: load === null || cost.amount === null ? [] : [...((await this.gaps.nameOf(reader, load.id)) ?? [])],
      carriedFrom: carriedFromShown(cost),
      parts: cost.amount === null ? [] : partsShown(cost.parts, cost.amount, currency),
      entries: entries.map((entry) => entryShown(entry, load)),
    };
  }
}

function entryShown(entry: Entry, cameWith: Named | null): CostEntry {
  const { loadId, amount, currency, wholeId, wholeCode, wholeName, bore, way, ...shown } = entry;
  return {
    ...shown,
    amount: formatMoney(BigInt(amount) as Money, currency),
    load: loadId !== null && loadId === cameWith?.id ? cameWith : null,
    passing:
      wholeId === null || way === null
        ? null
        : {
            whole: { id: wholeId, code: wholeCode ?? '', name: wholeName ?? '' },
            bore: formatMoney(BigInt(bore ?? '0') as Money, currency),
            way,
          },
  };
}

/** The unit or the box that passed a share of its cost on to this; null where none did. */
function passedIn(entries: readonly Entry[], thingId: string): LabelCode | null {
  return entries.find(({ wholeId }) => wholeId !== null && wholeId !== thingId)?.wholeCode ?? null;
}

function carriedFromShown({ carriedFrom }: Cost): ThingCost['carriedFrom'] {
  if (carriedFrom === null) return null;
  const { id, code, name } = carriedFrom;
  return { id, code, name };
}

const cameOf = {
  'taken out': 'of which it was one before it was fitted',
  opened: 'of which it was one before it was opened',
  split: 'from which it was split off',
};

function wordsOf(row: ThingRow, cost: Cost, load: string | null, from: LabelCode | null): string {
  const words = ownWords(row, cost, load, from);
  const joined = cost.mergedIn.map(({ code }) => formatCode(code)).join(' and ');
  if (joined === '') return words;
  if (cost.amount === null) return `Not known: ${joined} became part of it, and what one of them cost nobody knows.`;
  return `${words} With what ${joined} cost, which became part of it.`;
}

function ownWords(row: ThingRow, { amount, carriedFrom }: Cost, load: string | null, from: LabelCode | null): string {
  if (row.ownerId !== null && amount === null) return `It is ${row.ownerName ?? 'a customer'}’s, so it is no cost of ours.`;
  if (carriedFrom !== null)
    return amount === null
      ? `Not known: it was part of ${formatCode(carriedFrom.code)}, of which nobody knows what it cost.`
      : `Its part of the cost of ${formatCode(carriedFrom.code)}, ${cameOf[carriedFrom.kind]}.`;
  if (amount !== null && from !== null) return `Its share of what ${formatCode(from)} cost.`;
  const whole = row.boxCode ?? row.donorCode;
  if (amount === null && whole !== null)
    return `Not known: it came out of ${formatCode(whole as LabelCode)}, whose cost is not known or not passed on yet.`;
  if (amount !== null) return load === null ? 'By the entries below.' : `Its share of what ${load} cost.`;
  return load === null
    ? 'Not known: it did not come with a load, and nobody has said what it cost.'
    : `Not known: the cost of ${load} is not shared over its rows yet, or was before this one came.`;
}

function partsShown(parts: readonly Part[], cost: Money, currency: string): ThingCost['parts'] {
  const costs = costsOfParts(
    cost,
    parts.map((part) => part.quantity),
  );
  return parts.map(({ words, quantity }, index) => ({
    words,
    quantity: formatDecimal(quantity),
    amount: formatMoney(costs[index] ?? (0n as Money), currency),
  }));
}
