import { type BenchDatabase, withClient } from './bench-cluster.js';
import type { Ask } from './clients.js';
import { firstOpenLine } from './workshop-data.js';

/** One part to be fitted: a lot with plenty, a job, and its line that asks for it. */
export interface FitTask {
  code: string;
  jobId: string;
  lineId: string;
  thingId: string;
  partId: string;
  fromHolderId: string;
  unitId: string;
}

/** Metal parts only: the wording of a packet's date is no matter of speed. */
const tasksOfJobs = `
  SELECT codes.code, jobs.id AS "jobId", job_lines.id AS "lineId", lots.thing_id AS "thingId", parts.id AS "partId", balances.holder_id AS "fromHolderId", unit_id AS "unitId"
    FROM (SELECT id, unit_id FROM jobs ORDER BY id LIMIT $1 OFFSET $2) AS jobs
    JOIN job_lines ON job_lines.job_id = jobs.id AND line_no >= ${firstOpenLine}
    JOIN parts ON parts.id = job_lines.part_id AND material = 'metal'
    JOIN LATERAL (SELECT thing_id FROM lots JOIN things ON things.id = thing_id WHERE lots.part_id = parts.id AND held > 1000 ORDER BY thing_id LIMIT 1) AS lots ON true
    JOIN balances ON balances.thing_id = lots.thing_id AND balances.quantity > 1000 JOIN holders ON holders.id = holder_id AND holders.kind = 'place'
    JOIN codes ON codes.subject_id = lots.thing_id
   ORDER BY jobs.id, line_no`;

/** What each client fits, a job for each. @param offset jobs passed over, so that two sides do not meet on one */
export async function fitTasks(database: BenchDatabase, clients: number, offset: number): Promise<FitTask[][]> {
  const tasks = await withClient(
    database.ownerUrl,
    async (client) => (await client.query<FitTask>(tasksOfJobs, [clients, offset])).rows,
  );
  const jobIds = [...new Set(tasks.map((task) => task.jobId))];
  if (jobIds.length !== clients) throw new Error(`${clients} jobs were wanted and ${jobIds.length} have something to fit`);
  return jobIds.map((jobId) => tasks.filter((task) => task.jobId === jobId));
}

export function fitAsk(task: FitTask, key: string): Ask {
  const body = JSON.stringify({ code: task.code, jobId: task.jobId, quantity: '1' });
  const headers = {
    'content-type': 'application/json',
    'content-length': String(Buffer.byteLength(body)),
    'idempotency-key': key,
  };
  return { method: 'POST', path: '/api/fits', headers, body };
}
