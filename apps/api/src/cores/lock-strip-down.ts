import type { Transaction } from '../platform/commands/unit-of-work.js';
import type { Reader } from '../platform/database/database.js';
import { invariant, notFound, type Result, refused } from '../platform/refusal.js';
import { whyOfNoUse } from '../stores/goods-apart/why-barred.js';
import { type LockedThing, lockOf } from '../stores/ledger.js';
import { codeOf } from '../stores/place-words.js';
import { type FittedHere, fittedHere } from './fitted-here.js';
import type { JobOfUnit, JobOfUnitRegister } from './job-of-unit.js';
import { type ComponentState, componentStates, type ExpectedRow, type StandingRow } from './strip-state.js';

export interface StripDownRow extends Record<string, unknown> {
  id: string;
  unitId: string;
  unitCode: string;
  unitTypeId: string | null;
  closedAt: string | null;
}

/** A strip-down under way with everything that its next act rests on, read under the locks of the unit's job and of the unit. */
export interface StripDownUnderWay {
  id: string;
  unit: LockedThing & { code: string };
  job: JobOfUnit | null;
  components: ComponentState[];
  /** what was fitted in it here and is in it still */
  fitted: FittedHere[];
}

const selectRow = `
  SELECT id, unit_id AS "unitId", ${codeOf('unit_id')} AS "unitCode", unit_type_id AS "unitTypeId", closed_at AS "closedAt"
    FROM strip_downs WHERE id = $1`;
const selectExpected = `
  SELECT position, name, trim_scale(quantity)::text AS quantity, part_id AS "partId", must_be_looked_at AS "mustBeLookedAt", usual_fate AS "usualFate",
         kept_set AS "keptSet", keeps_thickness AS "keepsThickness"
    FROM unit_type_components WHERE unit_type_id = $1 ORDER BY position`;
const selectStanding = `
  SELECT id, position, name, kind, trim_scale(quantity)::text AS quantity, part_id AS "partId", finding, words, disposition, looked_at AS "lookedAt",
         stamped, thing_id AS "thingId"
    FROM strip_findings AS found
   WHERE strip_down_id = $1 AND NOT EXISTS (SELECT FROM strip_findings AS later WHERE later.supersedes_id = found.id)
   ORDER BY position, recorded_at, id`;
/** What has a tag of its own and was not made by this strip-down; a void code says that the tag was a mistake. */
const selectTakenBefore = `
  SELECT position, sum(pieces)::integer AS pieces FROM components
   WHERE unit_id = $1 AND NOT EXISTS (SELECT FROM strip_findings WHERE strip_findings.thing_id = components.thing_id AND strip_down_id = $2)
     AND EXISTS (SELECT FROM codes WHERE subject_id = components.thing_id AND voided_at IS NULL)
   GROUP BY position`;

export function stripDownRow(reader: Reader, id: string): Promise<StripDownRow | null> {
  return reader.row<StripDownRow>(selectRow, [id]);
}

/** The components of a strip-down as they stand. */
export async function componentsOf(reader: Reader, row: StripDownRow): Promise<ComponentState[]> {
  const [expected, standing, before] = await Promise.all([
    reader.rows<ExpectedRow>(selectExpected, [row.unitTypeId]),
    reader.rows<StandingRow>(selectStanding, [row.id]),
    reader.rows<{ position: number; pieces: number }>(selectTakenBefore, [row.unitId, row.id]),
  ]);
  return componentStates(expected, standing, new Map(before.map(({ position, pieces }) => [position, pieces])));
}

/** Locks the job of the unit, then the unit: all acts at one strip-down follow one another. */
export async function lockStripDown(
  transaction: Transaction,
  id: string,
  jobs: JobOfUnitRegister,
): Promise<Result<StripDownUnderWay>> {
  const seen = await stripDownRow(transaction, id);
  if (seen === null) return refused(notFound('This strip-down'));
  const job = await jobs.lock(transaction, seen.unitId);
  const unit = await lockOf(transaction, seen.unitId);
  const row = await stripDownRow(transaction, id);
  invariant(unit && row, 'a unit that is being stripped is in the books');
  if (row.closedAt !== null)
    return refused({
      status: 409,
      code: 'strip-down-finished',
      title: 'The strip-down is finished',
      detail:
        'This strip-down was finished, and its record stays as it is. Nothing was changed; put right anything else in Stores.',
    });
  const barred = whyOfNoUse(unit);
  if (barred !== null) return refused(barred);
  const components = await componentsOf(transaction, row);
  const fitted = await fittedHere(transaction, row.unitId);
  return { ok: true, value: { id, unit: { ...unit, code: row.unitCode }, job, components, fitted } };
}
