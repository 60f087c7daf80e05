import type { RulerMark } from '@corewright/contracts/today';
import type * as z from 'zod';
import { closedStates } from '../jobs/job.queries.js';
import type { Reader } from '../platform/database/database.js';
import { codeOf, thingFacts, thingName } from '../stores/place-words.js';

export interface OpenJob {
  id: string;
  code: string;
  title: string;
  state: string;
  customerId: string | null;
  customer: string | null;
  dateGiven: string | null;
  givenAgainst: string | null;
}

/** A small workshop has some dozens of open jobs; the most pressing are reckoned, and the rest stand in Jobs. */
export const jobsReckonedMax = 60;

const readOpenJobs = `
  SELECT jobs.id, codes.code, title, state, customer_id AS "customerId", parties.name AS customer, latest.given AS "dateGiven", latest.reason AS "givenAgainst"
    FROM jobs JOIN codes ON subject_id = jobs.id AND codes.kind = 'J'
    LEFT JOIN parties ON parties.id = customer_id
    LEFT JOIN LATERAL (SELECT given, reason FROM dates_given WHERE job_id = jobs.id ORDER BY recorded_at DESC LIMIT 1) AS latest ON true
   WHERE state <> ALL($1) ORDER BY latest.given NULLS LAST, priority, jobs.id LIMIT ${jobsReckonedMax}`;

export function openJobs(reader: Reader): Promise<OpenJob[]> {
  return reader.rows<OpenJob & Record<string, unknown>>(readOpenJobs, [closedStates]);
}

export interface LateReceipt {
  id: string;
  orderReference: string;
  supplier: string;
  part: string;
  outstanding: string;
  dueOn: string;
}

const readLate = `
  SELECT expected_receipts.id, order_reference AS "orderReference", parties.name AS supplier, parts.name AS part, trim_scale(quantity - quantity_received)::text AS outstanding, due_on AS "dueOn"
    FROM expected_receipts JOIN parties ON parties.id = supplier_id JOIN parts ON parts.id = part_id
   WHERE NOT called_off AND quantity_received < quantity AND due_on < $1 ORDER BY due_on LIMIT 50`;

export function lateReceipts(reader: Reader, today: string): Promise<LateReceipt[]> {
  return reader.rows<LateReceipt & Record<string, unknown>>(readLate, [today]);
}

export interface OpenFlag {
  id: string;
  thingId: string;
  kind: 'found in hand' | 'not there' | 'another label';
  code: string;
  name: string;
  words: string;
  by: string;
  at: string;
}

const readFlags = `
  SELECT stores_flags.id, things.id AS "thingId", stores_flags.kind, coalesce(${codeOf('things.id')}, '') AS code, ${thingName} AS name, stores_flags.words,
         coalesce(people.display_name, '') AS by, raised_at AS at
    FROM stores_flags JOIN things ON things.id = stores_flags.thing_id ${thingFacts} LEFT JOIN people ON people.id = person_id
   WHERE settled_at IS NULL ORDER BY raised_at LIMIT 50`;

export function openFlags(reader: Reader): Promise<OpenFlag[]> {
  return reader.rows<OpenFlag & Record<string, unknown>>(readFlags);
}

export interface UnlabelledLoad {
  id: string;
  number: number;
  words: string;
  unlabelled: number;
}

const readUnlabelled = `
  SELECT loads.id, loads.number, loads.words, count(*)::int AS unlabelled
    FROM (SELECT load_id, thing_id FROM load_rows WHERE NOT struck_out
          UNION ALL SELECT load_id, box_takings.thing_id FROM box_takings JOIN load_rows ON load_rows.thing_id = box_id WHERE kind = 'named') AS came
    JOIN loads ON loads.id = load_id
    JOIN things ON things.id = came.thing_id AND things.held > 0
    JOIN codes ON codes.subject_id = came.thing_id AND voided_at IS NULL AND NOT further
   WHERE loads.created_at > now() - interval '60 days' AND NOT EXISTS (SELECT 1 FROM label_prints WHERE label_prints.code = codes.code)
   GROUP BY loads.id ORDER BY loads.number DESC LIMIT 5`;

export function unlabelledLoads(reader: Reader): Promise<UnlabelledLoad[]> {
  return reader.rows<UnlabelledLoad & Record<string, unknown>>(readUnlabelled);
}

const readComing = `
  SELECT due_on AS day, 'receipt' AS kind, 'order ' || order_reference || ', ' || parts.name AS words, confirmed AS certain, NULL AS path
    FROM expected_receipts JOIN parts ON parts.id = part_id
   WHERE NOT called_off AND quantity_received < quantity AND due_on BETWEEN $1 AND $2
  UNION ALL
  SELECT day, 'closed', reason, true, NULL FROM closed_days WHERE day BETWEEN $1 AND $2
  ORDER BY day, words LIMIT 100`;

export function comingDays(reader: Reader, from: string, to: string): Promise<z.infer<typeof RulerMark>[]> {
  return reader.rows<z.infer<typeof RulerMark> & Record<string, unknown>>(readComing, [from, to]);
}
