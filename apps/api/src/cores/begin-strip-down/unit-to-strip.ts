import type { Reader } from '../../platform/database/database.js';
import type { ClaimantNames, UnitJobs } from '../../stores/later-names.js';
import { whereIs } from '../../stores/ledger.js';
import { holderWords } from '../../stores/place-words.js';
import { openClaims } from '../../stores/thing.queries.js';
import type { UnitToStrip } from './decide-begin.js';

interface UnitRow extends Record<string, unknown> {
  code: string;
  stage: string;
  unitTypeId: string | null;
  ownerId: string | null;
  isBeingStripped: boolean;
}

const selectUnit = `
  SELECT coalesce((SELECT code FROM codes WHERE subject_id = units.thing_id AND voided_at IS NULL AND NOT further LIMIT 1), '') AS code, stage,
         unit_type_id AS "unitTypeId", owner_id AS "ownerId",
         EXISTS (SELECT FROM strip_downs WHERE unit_id = units.thing_id AND closed_at IS NULL) AS "isBeingStripped"
    FROM units JOIN things ON things.id = thing_id WHERE thing_id = $1`;
const selectHolder = `SELECT ${holderWords('holders.id', 'holders.kind')} AS words FROM holders WHERE id = $1`;

/** What decides whether a unit may be stripped; null for what is no unit. */
export async function unitToStrip(
  reader: Reader,
  unitId: string,
  forJobId: string | null,
  names: { jobs: UnitJobs; claimants: ClaimantNames },
): Promise<(UnitToStrip & { unitTypeId: string | null }) | null> {
  const unit = await reader.row<UnitRow>(selectUnit, [unitId]);
  if (unit === null) return null;
  const balances = (await whereIs(reader, unitId)).filter((balance) => !balance.quantity.startsWith('-'));
  const claims = (await openClaims(reader, unitId)).filter((claim) => claim.claimantId !== forJobId);
  const called = await names.claimants.namesOf(
    reader,
    claims.map((claim) => claim.claimantId),
  );
  const own = await names.jobs.nameOf(reader, unitId);
  const [holder] = balances;
  const words = holder ? await reader.row<{ words: string }>(selectHolder, [holder.holderId]) : null;
  const { ownerId, ...row } = unit;
  return {
    ...row,
    isHere: balances.some((balance) => balance.counts),
    whereElse: words?.words ?? '',
    holderKind: holder?.kind ?? null,
    laidByFor: claims
      .filter((claim) => claim.claimantId !== own?.id)
      .map((claim) => ({ code: claim.claimantCode, name: called.get(claim.claimantId) ?? '' })),
    ownJobId: own?.id ?? null,
    forJobId,
    isCustomers: ownerId !== null,
  };
}
