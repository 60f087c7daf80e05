import type { Coded } from '@corewright/contracts/base';
import type { Warning, WarningKind, WarningList } from '@corewright/contracts/warnings';
import type { Reader } from '../platform/database/database.js';

interface Row extends Record<string, unknown> {
  id: string;
  kind: WarningKind;
  job: Coded;
  otherJob: Coded | null;
  line: Warning['line'];
  words: string;
  why: string;
  raisedAt: string;
  settledAt: string | null;
  by: string | null;
  note: string | null;
}

const jobShown = (jobId: string): string => `
  (SELECT json_build_object('id', jobs.id, 'code', codes.code, 'name', title) FROM jobs JOIN codes ON subject_id = jobs.id AND codes.kind = 'J' AND voided_at IS NULL
    WHERE jobs.id = ${jobId})`;

const selectWarnings = `
  SELECT warnings.id, warnings.kind, ${jobShown('warnings.job_id')} AS job, ${jobShown('other_job_id')} AS "otherJob", words, why, raised_at AS "raisedAt",
         (SELECT json_build_object('id', job_lines.id, 'lineNo', line_no, 'name', parts.name, 'needed', trim_scale(quantity)::text,
                                   'number', coalesce((SELECT number FROM part_numbers WHERE part_numbers.part_id = parts.id AND is_main), ''))
            FROM job_lines JOIN parts ON parts.id = part_id WHERE job_lines.id = warnings.line_id) AS line,
         settled_at AS "settledAt", people.display_name AS by, settled_note AS note
    FROM warnings LEFT JOIN people ON people.id = settled_by`;
const openMax = 200;
const settledMax = 30;
const selectOpen = `${selectWarnings} WHERE settled_at IS NULL ORDER BY raised_at DESC, warnings.id DESC LIMIT ${openMax}`;
const selectSettled = `
  ${selectWarnings} WHERE settled_at > now() - interval '7 days' AND settled_note <> '' ORDER BY settled_at DESC, warnings.id DESC LIMIT ${settledMax}`;
const countOpen = 'SELECT count(*)::int AS open FROM warnings WHERE settled_at IS NULL';

/** What is open, and what was settled in the last days. */
export async function warningList(reader: Reader): Promise<WarningList> {
  const [open, settled, count] = await Promise.all([
    reader.rows<Row>(selectOpen),
    reader.rows<Row>(selectSettled),
    reader.row<{ open: number }>(countOpen),
  ]);
  return { open: open.map(shown), openTotal: count?.open ?? 0, settled: settled.map(shown) };
}

const selectOne = `${selectWarnings} WHERE warnings.id = $1`;

export async function warningOf(reader: Reader, id: string): Promise<Warning | null> {
  const row = await reader.row<Row>(selectOne, [id]);
  return row && shown(row);
}

function shown({ settledAt, by, note, ...warning }: Row): Warning {
  return { ...warning, settled: settledAt === null ? null : { at: settledAt, by, note: note ?? '' } };
}
