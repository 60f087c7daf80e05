import type { LabelCode } from '@corewright/codes/label-code';
import type { JobConsumable } from '@corewright/contracts/consumables';
import { chargedInHundred, sharesOfUses } from '@corewright/costing/share-uses';
import { type Money, noMoney, sumMoney } from '@corewright/quantities/money';
import type { Reader } from '../../platform/database/database.js';
import { costOf } from '../../stores/costs/thing-cost.queries.js';
import { codeOf } from '../../stores/place-words.js';
import { flatChargesOfJob } from '../settings/flat-charges.queries.js';

/** What a job is charged for consumables. */
export interface ConsumablesOfJob {
  rows: (Omit<JobConsumable, 'amount'> & { amount: Money | null })[];
  /** of what is known */
  sum: Money;
  /** so many rows that count and whose cost nobody knows */
  unknown: number;
}

interface UseRow extends Record<string, unknown> {
  id: string;
  kind: 'use' | 'flat charge dropped';
  partId: string;
  name: string;
  thingId: string | null;
  code: LabelCode | null;
  uses: number | null;
  useMinor: string | null;
  perContainer: number | null;
  container: string;
  flatChargeId: string | null;
  override: string | null;
  why: string;
  by: string;
  at: string;
  putRight: JobConsumable['putRight'];
}

const selectRows = `
  SELECT used.id, used.kind, used.part_id AS "partId", parts.name, used.thing_id AS "thingId", ${codeOf('used.thing_id')} AS code, used.uses,
         used.use_minor::text AS "useMinor", used.uses_per_container AS "perContainer", consumables.container, used.flat_charge_id AS "flatChargeId",
         used.override_reason AS override, used.why, coalesce(people.display_name, '') AS by, used.occurred_at AS at,
         CASE WHEN later.id IS NOT NULL THEN json_build_object('id', later.id, 'why', later.why, 'by', coalesce(corrector.display_name, ''),
           'at', to_char(later.recorded_at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')) END AS "putRight"
    FROM consumable_uses AS used JOIN parts ON parts.id = used.part_id JOIN consumables ON consumables.part_id = used.part_id
    LEFT JOIN people ON people.id = used.person_id
    LEFT JOIN consumable_uses AS later ON later.puts_right_id = used.id LEFT JOIN people AS corrector ON corrector.id = later.person_id
   WHERE used.job_id = $1 AND used.kind <> 'put right' ORDER BY used.sequence`;

const selectStanding = `
  SELECT used.id, used.uses, used.uses_per_container AS "perContainer" FROM consumable_uses AS used
   WHERE used.thing_id = $1 AND used.uses_per_container IS NOT NULL
     AND NOT EXISTS (SELECT FROM consumable_uses AS later WHERE later.puts_right_id = used.id)
   ORDER BY used.sequence`;

type Standing = { id: string; uses: number; perContainer: number };

/** The uses of a container that are charged by shares of its cost and count, in the order in which they were made. */
export function standingUses(reader: Reader, thingId: string): Promise<Standing[]> {
  return reader.rows<Standing & Record<string, unknown>>(selectStanding, [thingId]);
}

/** How much of a container was charged by shares, in parts of a hundred. */
export async function containerCharged(reader: Reader, thingId: string): Promise<number> {
  return chargedInHundred(await standingUses(reader, thingId));
}

/**
 * What a job is charged for consumables, each row with what it rests on: uses at so much each, uses at a share of what the container cost (which
 * follows where that cost is shared anew), and charges by rule. A cost that nobody knows is not nought: such rows are counted.
 */
export async function consumablesOfJob(reader: Reader, jobId: string): Promise<ConsumablesOfJob> {
  const [written, flat] = await Promise.all([reader.rows<UseRow>(selectRows, [jobId]), flatChargesOfJob(reader, jobId)]);
  const shares = await sharesByUse(reader, written);
  const uses = written
    .filter(({ kind }) => kind === 'use')
    .map((row) => {
      const counts = row.putRight === null;
      const amount = !counts
        ? null
        : row.useMinor === null
          ? (shares.get(row.id) ?? null)
          : ((BigInt(row.useMinor) * BigInt(row.uses ?? 0)) as Money);
      return { ...shown(row), kind: 'use' as const, amount, unknown: counts && amount === null };
    });
  const rows = [...uses, ...flat.map((charge) => flatRow(charge, written))];
  const known = rows.flatMap(({ amount }) => amount ?? []);
  return { rows, sum: known.length === 0 ? noMoney : sumMoney(known), unknown: rows.filter(({ unknown }) => unknown).length };
}

/** By the use: its share of what its container cost; left out where nobody knows that. */
async function sharesByUse(reader: Reader, rows: readonly UseRow[]): Promise<ReadonlyMap<string, Money>> {
  const containers = new Set(rows.flatMap((row) => (row.perContainer === null ? [] : (row.thingId ?? []))));
  const shares = new Map<string, Money>();
  for (const thingId of containers) {
    const { amount } = await costOf(reader, thingId);
    // Below nought is a mistake in the entries: nobody knows what it cost until that is put right.
    if (amount === null || amount < noMoney) continue;
    const standing = await standingUses(reader, thingId);
    const each = sharesOfUses(amount, standing);
    for (const [index, use] of standing.entries()) shares.set(use.id, each[index] ?? noMoney);
  }
  return shares;
}

function shown(row: UseRow) {
  const { id, partId, name, thingId, code, uses, perContainer, container, override, by, at, putRight } = row;
  const words =
    perContainer === null ? 'so much each use' : `a use is about 1/${perContainer} of what the container (${container}) cost`;
  return {
    id,
    part: { id: partId, name },
    container: thingId === null || code === null ? null : { id: thingId, code, name },
    uses,
    words,
    override,
    by,
    at,
    putRight,
  };
}

/** A charge by rule, and whether somebody said that this job does not bear it. */
function flatRow(
  charge: {
    id: string;
    partId: string;
    name: string;
    unitTypeId: string | null;
    unitTypeName: string;
    amountMinor: string | null;
  },
  written: readonly UseRow[],
) {
  const dropped = written.find(
    (row) => row.kind === 'flat charge dropped' && row.flatChargeId === charge.id && row.putRight === null,
  );
  return {
    id: charge.id,
    kind: 'flat' as const,
    part: { id: charge.partId, name: charge.name },
    container: null,
    uses: null,
    amount: dropped === undefined ? (BigInt(charge.amountMinor ?? '0') as Money) : null,
    unknown: false,
    words: charge.unitTypeId === null ? 'by rule, so much a job' : `by rule, so much a job of ${charge.unitTypeName}`,
    override: null,
    by: '',
    at: null,
    putRight: dropped === undefined ? null : { id: dropped.id, why: dropped.why, by: dropped.by, at: dropped.at },
  };
}
