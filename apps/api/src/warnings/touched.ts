import { closedStates } from '../jobs/job.queries.js';
import type { Reader } from '../platform/database/database.js';

/** What a commit may have changed the cover of, as far as its topics tell. */
export interface Hint {
  /** where they do not tell */
  everything: boolean;
  jobIds: readonly string[];
  thingIds: readonly string[];
  partIds: readonly string[];
}

/** An import names every thing that it moves. */
const thingsNamedMax = 100;
/** Words that say nothing of cover: who is signed in, what was paid for a load, our own. */
const beside = ['sessions', 'people', 'imports', 'blank-labels', 'loads', 'load', 'strip-downs', 'today', 'warnings'];
/** Words of changes that reach further than what is named with them. */
const wide = ['settings', 'imports', 'everything'];

/** Null where cover cannot have changed. */
export function hintOf(topics: readonly string[]): Hint | null {
  const words = topics.map((topic) => topic.split(':')[0] ?? '');
  if (words.includes('warnings') || words.every((word) => beside.includes(word))) return null;
  const named = (word: string) =>
    topics.filter((topic) => topic.startsWith(`${word}:`)).map((topic) => topic.slice(word.length + 1));
  const [jobIds, thingIds, partIds] = [named('job'), named('thing'), named('part')];
  const isNamed = jobIds.length + thingIds.length + partIds.length > 0 && thingIds.length <= thingsNamedMax;
  const everything = !isNamed || words.some((word) => wide.includes(word));
  // a scan names its job beside the thing, and changes nothing of it but what has to do with that
  const isOfThings = thingIds.length > 0 && !words.includes('strip-downs');
  return { everything, jobIds: isOfThings ? [] : jobIds, thingIds: isNamed ? thingIds : [], partIds };
}

const selectParts = `
  SELECT part_id AS id FROM lots WHERE thing_id = ANY ($1::uuid[]) AND part_id IS NOT NULL
  UNION SELECT part_id FROM components WHERE thing_id = ANY ($1::uuid[]) AND part_id IS NOT NULL
  UNION SELECT part_id FROM units JOIN unit_type_components USING (unit_type_id) WHERE thing_id = ANY ($1::uuid[]) AND part_id IS NOT NULL
  UNION SELECT part_id FROM fittings JOIN job_lines ON job_lines.id = job_line_id WHERE fittings.thing_id = ANY ($1::uuid[])
  UNION SELECT part_id FROM claims JOIN job_lines ON job_lines.id = purpose_id WHERE claims.thing_id = ANY ($1::uuid[])`;

/** The parts that these things are, or that units among them have, and those in whose place they went. */
export async function partsOfThings(reader: Reader, thingIds: readonly string[]): Promise<string[]> {
  if (thingIds.length === 0) return [];
  return (await reader.rows<{ id: string }>(selectParts, [thingIds])).map(({ id }) => id);
}

const selectOfUnits = 'SELECT id FROM jobs WHERE unit_id = ANY ($1::uuid[])';

/** The jobs on units among these things. */
export async function jobsOnUnits(reader: Reader, thingIds: readonly string[]): Promise<string[]> {
  if (thingIds.length === 0) return [];
  return (await reader.rows<{ id: string }>(selectOfUnits, [thingIds])).map(({ id }) => id);
}

const selectWatched = `
  SELECT id FROM jobs WHERE state <> ALL ($1)
  UNION SELECT job_id FROM line_cover UNION SELECT job_id FROM date_standings UNION SELECT job_id FROM warnings WHERE cause_gone_at IS NULL`;

/** Every open job, and what was open when it was looked at last. */
export async function everyJob(reader: Reader): Promise<string[]> {
  return (await reader.rows<{ id: string }>(selectWatched, [closedStates])).map(({ id }) => id);
}
