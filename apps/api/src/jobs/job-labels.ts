import type { LabelCode } from '@corewright/codes/label-code';
import { jobLabel } from '@corewright/labels/label-model';
import type { LabelSubject } from '../labels/label-subject.js';
import type { Reader } from '../platform/database/database.js';
import { codeOf } from '../stores/place-words.js';

interface JobRow extends Record<string, unknown> {
  code: LabelCode;
  title: string;
  unit: LabelCode | null;
  customer: string | null;
  tray: string;
}

const selectJobs = `
  SELECT codes.code, jobs.title, ${codeOf('jobs.unit_id')} AS unit, parties.name AS customer, places.name AS tray
    FROM codes JOIN jobs ON jobs.id = subject_id JOIN places ON places.holder_id = jobs.tray_id
    LEFT JOIN parties ON parties.id = jobs.customer_id
   WHERE codes.code = ANY ($1::text[])`;

/** What is stuck to a job card. */
export async function jobLabels(reader: Reader, codes: readonly LabelCode[]): Promise<ReadonlyMap<LabelCode, LabelSubject>> {
  const rows = await reader.rows<JobRow>(selectJobs, [codes]);
  return new Map(rows.map((row) => [row.code, { stock: 'bag label', models: [modelOf(row)] }]));
}

function modelOf({ code, title, unit, customer, tray }: JobRow) {
  return jobLabel({ code, title, tray, ...(unit === null ? {} : { unit }), ...(customer === null ? {} : { customer }) });
}
