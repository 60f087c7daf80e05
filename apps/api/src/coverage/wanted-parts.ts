import { closedStates } from '../jobs/job.queries.js';
import type { Reader } from '../platform/database/database.js';
import { listed } from '../platform/database/listed.js';

const openLines = 'JOIN jobs ON jobs.id = job_lines.job_id AND state <> ALL ($2)';

const accepted = `
  SELECT DISTINCT substitutes.part_id AS id FROM substitutes JOIN job_lines ON job_lines.id = job_line_id ${openLines}
   WHERE job_lines.part_id = ANY (${listed('$1')}) AND substitutes.withdrawn_at IS NULL`;

/** Parts that were accepted in place of one of these for a line of an open job. */
export async function partsAcceptedFor(reader: Reader, partIds: readonly string[]): Promise<string[]> {
  return (await reader.rows<{ id: string }>(accepted, [partIds, closedStates])).map(({ id }) => id);
}

/**
 * Against the way that a part leads to what may serve in its place: what one of these will serve for, and before that what is the same or was
 * superseded by it. It may lead to more than what is really served, never to less. The limit has each part looked up by its key: there are few.
 */
const beside = `
  WITH RECURSIVE served AS (
    SELECT unnest((SELECT $1::uuid[])) AS part_id
    UNION
    SELECT to_part_id FROM relations WHERE from_part_id = ANY (${listed('$1')}) AND kind = 'will serve for' AND withdrawn_at IS NULL),
  back AS (
    SELECT part_id FROM served
    UNION
    SELECT next.part_id FROM back CROSS JOIN LATERAL (
      SELECT from_part_id AS part_id FROM relations
       WHERE to_part_id = back.part_id AND kind IN ('same as', 'supersession') AND withdrawn_at IS NULL AND NOT is_kit
      UNION ALL
      SELECT to_part_id FROM relations
       WHERE from_part_id = back.part_id AND kind = 'same as' AND withdrawn_at IS NULL) AS next)
  SELECT back.part_id AS id FROM back CROSS JOIN LATERAL (
    SELECT FROM job_lines ${openLines} WHERE job_lines.part_id = back.part_id AND waived_reason IS NULL LIMIT 1) AS asking
  UNION
  SELECT job_lines.part_id FROM substitutes JOIN job_lines ON job_lines.id = job_line_id ${openLines}
   WHERE substitutes.part_id = ANY (${listed('$1')}) AND substitutes.withdrawn_at IS NULL AND waived_reason IS NULL`;

/** Parts that lines of open jobs ask for and that one of these may serve. */
export async function partsWantedBeside(reader: Reader, partIds: readonly string[]): Promise<string[]> {
  if (partIds.length === 0) return [];
  return (await reader.rows<{ id: string }>(beside, [partIds, closedStates])).map(({ id }) => id);
}

const keptWith = `
  SELECT DISTINCT other_lots.part_id AS id
    FROM lots JOIN kept_set_members AS members ON members.thing_id = lots.thing_id AND members.bound
    JOIN kept_set_members AS others ON others.set_id = members.set_id AND others.bound AND others.thing_id <> members.thing_id
    JOIN lots AS other_lots ON other_lots.thing_id = others.thing_id
   WHERE lots.part_id = ANY (${listed('$1')}) AND other_lots.part_id IS NOT NULL`;

/** Parts of which something is bound in one set with something of one of these. */
export async function partsKeptWith(reader: Reader, partIds: readonly string[]): Promise<string[]> {
  return (await reader.rows<{ id: string }>(keptWith, [partIds])).map(({ id }) => id);
}
