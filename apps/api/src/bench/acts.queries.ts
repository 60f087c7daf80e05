import type { Act } from '@corewright/contracts/bench';
import { decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import type { Reader } from '../platform/database/database.js';
import { codeOf } from '../stores/place-words.js';

interface ActRow extends Record<string, unknown> {
  id: string;
  at: string;
  reason: string;
  code: string | null;
  name: string;
  quantity: string | null;
  by: string | null;
  lineNo: number | null;
  fittingId: string | null;
  reversed: boolean;
  ended: boolean;
  reused: boolean;
  words: string;
}

const lastActs = `
  WITH scans AS (
    SELECT movements.id, movements.occurred_at AS at, movements.reason, movements.thing_id, movements.quantity, movements.person_id,
           fittings.id AS fitting_id, job_lines.line_no, coalesce(fittings.reused, false) AS reused, fittings.override_reason, fittings.in_place_of, fittings.why,
           EXISTS (SELECT 1 FROM movements AS undone WHERE undone.reverses_id = movements.id) AS reversed,
           EXISTS (SELECT 1 FROM fitting_endings WHERE fitting_id = fittings.id) AS ended, movements.sequence
      FROM jobs
      JOIN movements ON to_holder_id IN (jobs.unit_id, jobs.tray_id) OR (from_holder_id IN (jobs.unit_id, jobs.tray_id))
      LEFT JOIN fittings ON fittings.movement_id = movements.id
      LEFT JOIN job_lines ON job_lines.id = fittings.job_line_id
     WHERE jobs.id = $1 AND movements.reason IN ('picked', 'fitted', 'taken back', 'taken out after fitting', 'taken out: goes on as another lot')
     ORDER BY movements.sequence DESC LIMIT 10)
  SELECT scans.id, scans.at, scans.reason, ${codeOf('scans.thing_id')} AS code,
         coalesce(parts.name, nullif(lots.words, ''), components.name, nullif(units.words, ''), 'thing') AS name,
         scans.quantity, people.display_name AS by, scans.line_no AS "lineNo", scans.fitting_id AS "fittingId", scans.reversed, scans.ended, scans.reused,
         concat_ws('; ', CASE WHEN scans.in_place_of THEN 'in place of line ' || scans.line_no || ': ' || scans.why END, scans.override_reason) AS words
    FROM scans
    LEFT JOIN lots ON lots.thing_id = scans.thing_id LEFT JOIN components ON components.thing_id = scans.thing_id LEFT JOIN units ON units.thing_id = scans.thing_id
    LEFT JOIN parts ON parts.id = coalesce(lots.part_id, components.part_id) LEFT JOIN people ON people.id = scans.person_id
   ORDER BY scans.sequence DESC`;

const lastRefusals = `
  SELECT commands.key AS id, coalesce(made_at, arrived_at) AS at, body->'values'->'thing'->>'code' AS code,
         coalesce(body->'values'->'thing'->>'name', '') AS name, people.display_name AS by, body->>'title' AS words
    FROM commands JOIN outcomes ON command_key = key LEFT JOIN people ON people.id = commands.person_id
   WHERE route IN ('POST /api/fits', 'POST /api/picks') AND status = 409 AND body->'values'->>'jobId' = $1 AND arrived_at > now() - interval '1 day'
   ORDER BY arrived_at DESC LIMIT 10`;

const actOf: Record<string, Act['act']> = {
  picked: 'picked',
  fitted: 'fitted',
  'taken back': 'taken back',
  'taken out after fitting': 'removed',
  'taken out: goes on as another lot': 'removed',
};

/** The last ten acts at a job, refusals among them, newest first. */
export async function lastActsAt(reader: Reader, jobId: string): Promise<Act[]> {
  const scans = (await reader.rows<ActRow>(lastActs, [jobId])).map(shown);
  const refusals = (
    await reader.rows<{ id: string; at: string; code: string | null; name: string; by: string | null; words: string }>(
      lastRefusals,
      [jobId],
    )
  ).map(
    (row): Act => ({
      ...row,
      act: 'refused',
      quantity: null,
      by: row.by ?? '',
      lineNo: null,
      fittingId: null,
      canBeTakenBack: false,
      struckOut: false,
    }),
  );
  return lastOf([...scans, ...refusals]);
}

/** The last ten of these acts, newest first. */
export function lastOf(acts: readonly Act[]): Act[] {
  return acts.toSorted((a, b) => b.at.localeCompare(a.at)).slice(0, 10);
}

function shown(row: ActRow): Act {
  const { reason, reversed, ended, reused, by, quantity, ...rest } = row;
  const act = reused && reason === 'fitted' ? 're-used' : (actOf[reason] ?? 'put back');
  return {
    ...rest,
    act,
    by: by ?? '',
    quantity: quantity === null ? null : formatDecimal(decimalFrom(quantity)),
    canBeTakenBack: !reversed && !ended && (reason === 'picked' || reason === 'fitted'),
    struckOut: reversed,
  };
}
