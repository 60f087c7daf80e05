import type { KeptSet } from '@corewright/contracts/kept-sets';
import type { Reader } from '../../platform/database/database.js';
import { listed } from '../../platform/database/listed.js';
import type { ClaimantNames } from '../later-names.js';
import { codeOf, holderWords, thingFacts, thingName } from '../place-words.js';

interface SetRow extends Record<string, unknown> {
  id: string;
  number: string;
  words: string;
  mismatchReason: string;
  unitId: string | null;
  unitCode: string | null;
  unitName: string | null;
  boundBy: string;
  boundAt: string;
  brokenOnWordOf: string | null;
  brokenWhy: string | null;
  brokenBy: string | null;
  brokenAt: string | null;
  takers: string[];
}

interface MemberRow extends Record<string, unknown> {
  setId: string;
  id: string;
  code: string | null;
  name: string;
  stamped: string;
  bound: boolean;
  where: string;
}

const selectSets = `
  SELECT kept_sets.id, number, kept_sets.words, mismatch_reason AS "mismatchReason", kept_sets.unit_id AS "unitId", ${codeOf('kept_sets.unit_id')} AS "unitCode",
         (SELECT coalesce(nullif(concat_ws(' ', makers.name, model, nullif(variant, '')), ''), nullif(of_unit.words, ''), 'not yet identified') FROM units AS of_unit
           LEFT JOIN unit_types ON unit_types.id = of_unit.unit_type_id LEFT JOIN makers ON makers.id = maker_id
          WHERE of_unit.thing_id = kept_sets.unit_id) AS "unitName",
         binders.display_name AS "boundBy", bound_at AS "boundAt", broken_on_word_of AS "brokenOnWordOf", broken_why AS "brokenWhy",
         breakers.display_name AS "brokenBy", broken_at AS "brokenAt",
         ARRAY(SELECT takers_of_kept_set(kept_sets.id))::text[] AS takers
    FROM kept_sets JOIN people AS binders ON binders.id = bound_by LEFT JOIN people AS breakers ON breakers.id = broken_by
   WHERE kept_sets.id = ANY (${listed('$1')}) ORDER BY bound_at DESC, kept_sets.id`;

const selectMembers = `
  SELECT set_id AS "setId", things.id, ${codeOf('things.id')} AS code, ${thingName} AS name, stamped, bound,
         coalesce((SELECT ${holderWords('holders.id', 'holders.kind')} FROM balances JOIN holders ON holders.id = holder_id
           WHERE thing_id = things.id AND quantity > 0 ORDER BY quantity DESC, holders.id LIMIT 1), 'nowhere') AS where
    FROM kept_set_members JOIN things ON things.id = thing_id ${thingFacts}
   WHERE set_id = ANY (${listed('$1')}) ORDER BY joined_at, things.id`;

const ofThing = 'SELECT DISTINCT set_id AS id FROM kept_set_members WHERE thing_id = $1';
const ofUnit = 'SELECT id FROM kept_sets WHERE unit_id = $1';

/** Sets by their ids, the newest first. */
export async function keptSets(reader: Reader, ids: readonly string[], claimants: ClaimantNames): Promise<KeptSet[]> {
  if (ids.length === 0) return [];
  const [sets, members] = await Promise.all([
    reader.rows<SetRow>(selectSets, [ids]),
    reader.rows<MemberRow>(selectMembers, [ids]),
  ]);
  const names = await claimants.namesOf(
    reader,
    sets.flatMap((set) => set.takers),
  );
  return sets.map((set) => shown(set, members, names));
}

function shown(set: SetRow, members: readonly MemberRow[], names: ReadonlyMap<string, string>): KeptSet {
  const [taker] = set.takers;
  return {
    id: set.id,
    number: set.number,
    words: set.words,
    unit: set.unitId && set.unitCode ? { id: set.unitId, code: set.unitCode, name: set.unitName ?? '' } : null,
    mismatchReason: set.mismatchReason,
    boundBy: set.boundBy,
    boundAt: set.boundAt,
    members: members
      .filter((member) => member.setId === set.id)
      .map(({ id, code, name, stamped, bound, where }) => ({ thing: { id, code: code ?? '', name }, stamped, bound, where })),
    broken:
      set.brokenAt === null
        ? null
        : { onWordOf: set.brokenOnWordOf ?? '', why: set.brokenWhy ?? '', by: set.brokenBy ?? '', at: set.brokenAt },
    job: taker === undefined ? null : { id: taker, name: names.get(taker) ?? '' },
  };
}

/** Every set that a thing is or was of. */
export async function setsOfThing(reader: Reader, thingId: string): Promise<string[]> {
  return (await reader.rows<{ id: string }>(ofThing, [thingId])).map(({ id }) => id);
}

/** Every set that came out of a unit. */
export async function setsOfUnit(reader: Reader, unitId: string): Promise<string[]> {
  return (await reader.rows<{ id: string }>(ofUnit, [unitId])).map(({ id }) => id);
}

const takers = 'SELECT takers_of_kept_set($1) AS id';

/** Who has claimed or taken any of a set; to be asked when the set is locked. */
export async function takersOfSet(reader: Reader, setId: string): Promise<string[]> {
  return (await reader.rows<{ id: string }>(takers, [setId])).map(({ id }) => id);
}

/** SQL: the set that a thing is bound in; null for nearly everything. */
export function boundSetOf(thingId: string): string {
  return `(SELECT set_id FROM kept_set_members WHERE thing_id = ${thingId} AND bound)`;
}

const notWith = `
  SELECT kept_sets.number, kept_sets.words, ${thingName} AS name, coalesce(${codeOf('things.id')}, '') AS code
    FROM kept_sets JOIN kept_set_members ON set_id = kept_sets.id AND bound JOIN things ON things.id = kept_set_members.thing_id ${thingFacts}
   WHERE $1 IN (SELECT takers_of_kept_set(kept_sets.id))
     AND kept_sets.id IN (
       SELECT set_id FROM kept_set_members AS taken JOIN claims USING (thing_id) WHERE taken.bound AND claimant_id = $1 AND claims.quantity > 0
       UNION SELECT set_id FROM kept_set_members AS taken JOIN fittings USING (thing_id) JOIN job_lines ON job_lines.id = job_line_id
        WHERE taken.bound AND job_id = $1)
     AND NOT EXISTS (SELECT FROM claims WHERE claims.thing_id = things.id AND claimant_id = $1 AND claims.quantity > 0)
     AND NOT EXISTS (SELECT FROM fittings JOIN job_lines ON job_lines.id = job_line_id WHERE fittings.thing_id = things.id AND job_id = $1
                       AND fittings.quantity > coalesce((SELECT sum(quantity) FROM fitting_endings WHERE fitting_id = fittings.id), 0))
   ORDER BY kept_sets.id, name`;

export interface MemberAway {
  number: string;
  words: string;
  name: string;
  code: string;
}

/** Members of the sets of a job that are neither in its unit nor laid by for it. */
export function membersAway(reader: Reader, jobId: string): Promise<MemberAway[]> {
  return reader.rows<MemberAway & Record<string, unknown>>(notWith, [jobId]);
}
