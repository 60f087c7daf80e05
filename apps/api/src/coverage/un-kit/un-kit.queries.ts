import type { TrayContents } from '@corewright/contracts/un-kit';
import { closedStates } from '../../jobs/job.queries.js';
import type { Reader } from '../../platform/database/database.js';
import { codeOf, thingFacts, thingName } from '../../stores/place-words.js';
import { type BroughtIn, type InTray, trayRows } from './tray-contents.js';

const selectLying = `
  SELECT json_build_object('id', things.id, 'code', ${codeOf('things.id')}, 'name', coalesce(named.name, ${thingName})) AS thing,
         coalesce(named.unit_of_measure, 'each') AS "unitOfMeasure", trim_scale(balances.quantity)::text AS quantity
    FROM balances JOIN things ON things.id = thing_id ${thingFacts}
    LEFT JOIN parts AS named ON named.id = coalesce(lots.part_id, components.part_id)
   WHERE holder_id = $1 AND balances.quantity > 0 ORDER BY things.id`;
/** What was brought in and not taken back again; a reversal brings back what had been brought before. */
const selectBrought = `
  SELECT movements.thing_id AS "thingId", movements.quantity,
         CASE WHEN places.holder_id IS NOT NULL AND places.kind <> 'tray'
              THEN json_build_object('id', places.holder_id, 'code', ${codeOf('places.holder_id')}, 'name', places.name, 'path', path) END AS from,
         concat_ws(' ', movements.reason, 'by', people.display_name) AS words,
         -(SELECT coalesce(sum(quantity), 0) FROM claim_changes
            WHERE claim_changes.thing_id = movements.thing_id AND command_key = movements.command_key AND kind = 'picked') AS reserved
    FROM movements LEFT JOIN places ON places.holder_id = from_holder_id LEFT JOIN people ON people.id = person_id
   WHERE to_holder_id = $1 AND movements.reverses_id IS NULL AND movements.thing_id IN (SELECT thing_id FROM balances WHERE holder_id = $1 AND quantity > 0)
     AND NOT EXISTS (SELECT FROM movements AS later WHERE later.reverses_id = movements.id)
   ORDER BY movements.sequence DESC`;
const selectJob = `
  SELECT json_build_object('id', jobs.id, 'code', ${codeOf('jobs.id')}, 'name', title) AS job, state,
         json_build_object('id', tray_id, 'code', ${codeOf('tray_id')}, 'name', places.name) AS tray
    FROM jobs JOIN places ON places.holder_id = tray_id WHERE jobs.id = $1`;
/** Undone already is undone for good; an undoing is not undone: the things are fetched again, or go back again. */
const selectLast = `
  SELECT un_kits.id, recorded_at AS at, people.display_name AS by,
         (SELECT count(*)::integer FROM un_kit_rows WHERE un_kit_id = un_kits.id) AS rows
    FROM un_kits JOIN people ON people.id = person_id
   WHERE job_id = $1 AND undoes_id IS NULL AND NOT EXISTS (SELECT FROM un_kits AS later WHERE later.undoes_id = un_kits.id)
   ORDER BY recorded_at DESC LIMIT 1`;

/** What lies in a job's tray and where it came from; null where there is no such job. */
export async function trayContents(reader: Reader, jobId: string): Promise<TrayContents | null> {
  const found = await reader.row<Pick<TrayContents, 'job' | 'state' | 'tray'> & Record<string, unknown>>(selectJob, [jobId]);
  if (found === null) return null;
  const [lying, brought, last] = await Promise.all([
    reader.rows<InTray & Record<string, unknown>>(selectLying, [found.tray.id]),
    reader.rows<BroughtIn & Record<string, unknown>>(selectBrought, [found.tray.id]),
    reader.row<{ id: string; at: string; by: string; rows: number }>(selectLast, [jobId]),
  ]);
  return {
    ...found,
    mustGiveUp: closedStates.includes(found.state),
    rows: trayRows(lying, brought),
    last:
      last === null
        ? null
        : { id: last.id, at: last.at, by: last.by, words: last.rows === 1 ? '1 label put back' : `${last.rows} labels put back` },
  };
}
