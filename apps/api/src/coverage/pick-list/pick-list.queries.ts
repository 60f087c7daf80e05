import type { JobState } from '@corewright/contracts/base';
import { closedStates } from '../../jobs/job.queries.js';
import type { Reader } from '../../platform/database/database.js';
import { listed } from '../../platform/database/listed.js';
import { codeOf } from '../../stores/place-words.js';
import type { Lying } from './stops.js';

export interface JobToKit {
  id: string;
  code: string;
  title: string;
  state: JobState;
  trayId: string;
  trayCode: string;
  trayName: string;
}

const selectJobs = `
  SELECT jobs.id, ${codeOf('jobs.id')} AS code, title, state, tray_id AS "trayId", ${codeOf('tray_id')} AS "trayCode", places.name AS "trayName"
    FROM jobs JOIN places ON places.holder_id = tray_id WHERE jobs.id = ANY (${listed('$1')}) ORDER BY jobs.id`;

export function jobsToKit(reader: Reader, ids: readonly string[]): Promise<JobToKit[]> {
  return reader.rows<JobToKit & Record<string, unknown>>(selectJobs, [ids]);
}

const selectJobOfTray = 'SELECT id FROM jobs WHERE tray_id = $1 AND state <> ALL ($2)';

/** The open job that a tray is for; null for every other place. */
export async function jobOfTray(reader: Reader, trayId: string): Promise<string | null> {
  return (await reader.row<{ id: string }>(selectJobOfTray, [trayId, closedStates]))?.id ?? null;
}

/** In the order in which a scan takes from places (`whereIs`). No scan takes from a tray of another job. */
const selectLying = `
  SELECT thing_id AS "thingId", quantity, json_build_object('id', places.holder_id, 'code', ${codeOf('places.holder_id')}, 'name', name, 'path', path) AS place
    FROM balances JOIN holders ON holders.id = holder_id AND holders.kind = 'place' JOIN places ON places.holder_id = balances.holder_id
   WHERE thing_id = ANY (${listed('$1')}) AND quantity > 0
   ORDER BY thing_id, quantity DESC, balances.holder_id`;

export function whereTheyLie(reader: Reader, thingIds: readonly string[]): Promise<Lying[]> {
  return reader.rows<Lying & Record<string, unknown>>(selectLying, [thingIds]);
}
