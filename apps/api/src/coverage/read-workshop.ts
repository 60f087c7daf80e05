import { lineAccepts, lineAcceptsFrom } from '../catalogue/build-standards/line-accepts.js';
import { isConsumable } from '../catalogue/consumable-part.js';
import { type Server, serversOf } from '../catalogue/relations/served-by.js';
import { storedFacts } from '../catalogue/storage-life.js';
import { ownAwayOf } from '../cores/own-away.js';
import { substitutesOfJobs } from '../jobs/accept-substitute/substitute.queries.js';
import { idlePart, rankedClaims } from '../jobs/idle-claims.js';
import { closedStates, fittedOf, reusedOf } from '../jobs/job.queries.js';
import type { Reader } from '../platform/database/database.js';
import { listed } from '../platform/database/listed.js';
import { boundSetOf } from '../stores/kept-sets/kept-set.queries.js';
import { codeOf } from '../stores/place-words.js';
import type {
  AwayFact,
  ClaimFact,
  FittedFact,
  LineFacts,
  ReceiptFact,
  SetFact,
  StockFact,
  WantingJob,
  WorkshopFacts,
} from './coverage-facts.js';
import { donorsOf } from './donor-facts.js';
import { partsAcceptedFor, partsKeptWith, partsWantedBeside } from './wanted-parts.js';
import { whereItLies } from './whereabouts.js';

/** A part has a handful of lots; where it has more, the oldest packets are enough. */
const lotsPerPartMax = 60;
/** Relations are asked for so many parts at a time: the search has a limit of its own. */
const partsAtOnce = 100;
/** Jobs that bear on each other through some chain of others are found in a round or two. */
const roundsMax = 12;

const jobColumns = `
  jobs.id, ${codeOf('jobs.id')} AS code, title, customer_id AS "customerId", state, priority,
  (SELECT given FROM dates_given WHERE job_id = jobs.id ORDER BY recorded_at DESC LIMIT 1) AS "dateGiven"`;
/** Their codes are looked up one by one: joined, a plan was seen to go through the codes of the whole workshop. The order in which jobs are served: priority, then the date that was given, then age. */
const readJobs = `
  SELECT * FROM (SELECT ${jobColumns}, opened_on FROM jobs WHERE state <> ALL ($1) OR jobs.id = $2) AS wanting
   ORDER BY state = ANY ($1), priority, "dateGiven" NULLS LAST, opened_on, id`;

const readLines = `
  SELECT job_lines.id, job_lines.job_id AS "jobId", line_no AS "lineNo", job_lines.part_id AS "partId", parts.name, coalesce(part_numbers.number, '') AS number, parts.unit_of_measure AS "unitOfMeasure",
         quantity AS needed, operation_id AS "operationId", job_operations.number AS "operationNumber", critical, reusable, further,
         waived_reason AS waived, ${isConsumable('job_lines.part_id')} AS consumable, job_lines.version, ${lineAccepts},
         ${fittedOf('job_lines.id')} AS fitted, ${reusedOf('job_lines.id')} AS reused,
         coalesce(finding.seen, 0) AS "lookedAt", coalesce(finding.words, '') AS "findingWords",
         CASE WHEN reusable THEN ${ownAwayOf('job_lines.job_id', 'job_lines.part_id')} ELSE '' END AS "ownAway"
    FROM job_lines
    JOIN parts ON parts.id = job_lines.part_id
    JOIN job_operations ON job_operations.id = operation_id
    LEFT JOIN part_numbers ON part_numbers.part_id = parts.id AND is_main
    ${lineAcceptsFrom}
    LEFT JOIN LATERAL (SELECT quantity_reused + quantity_replaced AS seen, words FROM findings WHERE job_line_id = job_lines.id ORDER BY recorded_at DESC, id DESC LIMIT 1) AS finding ON true`;
const inOrder = 'ORDER BY job_lines.job_id, job_operations.number, line_no';
const linesOfJobs = `${readLines} WHERE job_lines.job_id = ANY (${listed('$1')}) ${inOrder}`;
/** Found by their parts (IS TRUE keeps it so): nearly all open jobs are asked about, and an index of those gives all of their lines. */
const linesAsking = `
  ${readLines} WHERE job_lines.part_id = ANY (${listed('$1')}) AND (job_lines.job_id = ANY (${listed('$2')})) IS TRUE AND waived_reason IS NULL ${inOrder}`;

/** Line by line (OFFSET keeps it so): of all that was ever fitted few is for these lines. */
const readFitted = `
  SELECT job_lines.id AS "lineId", fitted.id AS "fittingId", thing_id AS "thingId", ${codeOf('thing_id')} AS code,
         coalesce((SELECT parts.name FROM lots JOIN parts ON parts.id = part_id WHERE lots.thing_id = fitted.thing_id), (SELECT name FROM components WHERE components.thing_id = fitted.thing_id), 'part') AS name,
         stays AS quantity, in_place_of AS "inPlaceOf", why, evidence, override_reason AS override, coalesce(people.display_name, '') AS by, fitted.recorded_at AS at
    FROM job_lines CROSS JOIN LATERAL (
      SELECT fittings.*, quantity - coalesce((SELECT sum(quantity) FROM fitting_endings WHERE fitting_id = fittings.id), 0) AS stays
        FROM fittings WHERE job_line_id = job_lines.id OFFSET 0) AS fitted
    LEFT JOIN people ON people.id = person_id
   WHERE job_id = ANY (${listed('$1')}) AND stays > 0
   ORDER BY fitted.recorded_at`;

/**
 * All of the jobs whose card is asked for; of the others what is for these lines, or of these parts. What is missing stays reserved and covers
 * nothing, whatever it is; what lies in a tray was found.
 */
const readClaims = `
  WITH wanted AS (
    SELECT id FROM claims WHERE claimant_id = ANY (${listed('$1')}) AND quantity > 0
    UNION SELECT id FROM claims WHERE purpose_id = ANY (${listed('$2')}) AND quantity > 0
    UNION SELECT claims.id FROM lots JOIN claims ON claims.thing_id = lots.thing_id AND claims.quantity > 0 WHERE part_id = ANY (${listed('$3')})
    UNION SELECT claims.id FROM components JOIN claims ON claims.thing_id = components.thing_id AND claims.quantity > 0 WHERE part_id = ANY (${listed('$3')}))
  SELECT ranked.id AS "claimId", claimant_id AS "jobId", purpose_id AS "lineId", things.id AS "thingId", codes.code,
         coalesce((SELECT parts.name FROM parts WHERE parts.id = coalesce(lots.part_id, components.part_id)), nullif(lots.words, ''), components.name, 'unit') AS name,
         coalesce(lots.part_id, components.part_id) AS "partId", piece.quantity, piece.in_tray AS "inTray", ranked.until, away.firm,
         CASE WHEN piece.in_tray THEN 'in the tray' WHEN away.firm IS NULL THEN ${whereItLies} ELSE 'with ' || away.firm END AS where
    FROM ${rankedClaims('claims.thing_id IN (SELECT theirs.thing_id FROM claims AS theirs JOIN wanted ON wanted.id = theirs.id)')}
    JOIN wanted ON wanted.id = ranked.id
    CROSS JOIN LATERAL (VALUES (ranked.quantity - ${idlePart}, true), (${idlePart}, false)) AS piece (quantity, in_tray)
    JOIN things ON things.id = ranked.thing_id JOIN codes ON codes.subject_id = things.id AND codes.voided_at IS NULL AND NOT codes.further
    LEFT JOIN LATERAL (
      SELECT parties.name AS firm FROM balances JOIN holders ON holders.id = holder_id AND holders.kind = 'outworker' JOIN parties ON parties.id = holders.id
       WHERE balances.thing_id = things.id AND balances.quantity > 0 AND things.held = 0 LIMIT 1) AS away ON true
    LEFT JOIN lots ON lots.thing_id = things.id LEFT JOIN components ON components.thing_id = things.id
   WHERE claimant_id = ANY ($4::uuid[]) AND piece.quantity > 0 AND (piece.in_tray OR things.missing_since IS NULL)
   ORDER BY codes.code`;

const readStock = `
  SELECT wanted.part_id AS "partId", lot.*
    FROM unnest($1::uuid[]) AS wanted (part_id)
    JOIN LATERAL (
      SELECT things.id AS "thingId", codes.code, parts.name, greatest(held - claimed, 0) AS free, claimed,
             held_back_reason AS "heldBackReason", condemned, missing_since AS "missingSince", ${boundSetOf('things.id')} AS "setId", owner_id AS "ownerId", source, make, condition, grades.rank AS "gradeRank",
             ${storedFacts}
        FROM lots JOIN things ON things.id = lots.thing_id JOIN parts ON parts.id = lots.part_id
        JOIN codes ON codes.subject_id = things.id AND codes.voided_at IS NULL AND NOT codes.further
        LEFT JOIN grades ON grades.scale = 'part' AND grades.letter = lots.condition
       WHERE lots.part_id = wanted.part_id AND held > 0 AND (owner_id IS NULL OR owner_id = ANY ($2::uuid[]))
       ORDER BY packet_earliest NULLS LAST, codes.code LIMIT ${lotsPerPartMax}) AS lot ON true`;

const readSets = `
  SELECT id, number, words, ARRAY(SELECT takers_of_kept_set(kept_sets.id))::text[] AS takers,
         ARRAY(SELECT thing_id FROM kept_set_members WHERE set_id = kept_sets.id AND bound ORDER BY thing_id)::text[] AS "memberIds"
    FROM kept_sets WHERE id = ANY (${listed('$1')}) ORDER BY id`;

const orderColumns = `
  receipts.id, receipts.part_id AS "partId", order_reference AS "orderReference", parties.name AS supplier, due_on AS "dueOn", confirmed`;
const outstanding = 'receipts.part_id = ANY ($1::uuid[]) AND NOT called_off AND quantity_received < receipts.quantity';
const readReceipts = `
  SELECT * FROM (
    SELECT ${orderColumns}, receipts.quantity - quantity_received - claimed AS outstanding, for_job_id AS "forJobId", NULL::json AS reserved
      FROM expected_receipts AS receipts JOIN parties ON parties.id = supplier_id
     WHERE ${outstanding} AND (for_job_id IS NULL OR for_job_id = ANY ($2::uuid[])) AND receipts.quantity > quantity_received + claimed
    UNION ALL
    SELECT ${orderColumns}, expected_claims.quantity, claimant_id,
           json_build_object('claimId', expected_claims.id, 'lineId', purpose_id, 'until', until)
      FROM expected_receipts AS receipts JOIN parties ON parties.id = supplier_id
      JOIN expected_claims ON receipt_id = receipts.id AND expected_claims.quantity > 0
     WHERE ${outstanding} AND claimant_id = ANY ($2::uuid[])) AS coming
   ORDER BY confirmed DESC, "dueOn" NULLS LAST, "orderReference", id, "forJobId"`;

/** What lies at an outworker and belongs to no unit of an open job: that counts as the unit's own. */
const readAway = `
  SELECT coalesce(lots.part_id, components.part_id) AS "partId", things.id AS "thingId", codes.code, coalesce(parts.name, components.name, 'part') AS name,
         firms.name AS firm, greatest(balances.quantity - things.claimed, 0) AS free
    FROM holders JOIN balances ON holder_id = holders.id AND balances.quantity > 0 JOIN things ON things.id = balances.thing_id AND held = 0
    JOIN codes ON codes.subject_id = things.id AND codes.voided_at IS NULL AND NOT codes.further
    JOIN parties AS firms ON firms.id = holders.id
    LEFT JOIN lots ON lots.thing_id = things.id LEFT JOIN components ON components.thing_id = things.id
    LEFT JOIN parts ON parts.id = coalesce(lots.part_id, components.part_id)
   WHERE holders.kind = 'outworker' AND coalesce(lots.part_id, components.part_id) = ANY ($1::uuid[]) AND owner_id IS NULL AND NOT condemned AND held_back_reason IS NULL
     AND NOT EXISTS (SELECT FROM jobs WHERE jobs.unit_id = components.unit_id AND state <> ALL ($2))
   ORDER BY codes.code`;

/** Whose cover is asked for: one job's, with all of the others that bears on it; what was touched; or that of every open job. */
export type WhoseCover = { jobId: string } | Touched | 'every open job';

/** Open jobs, and parts of which something changed: what is read has every line that bears on either. */
export interface Touched {
  jobIds: readonly string[];
  partIds: readonly string[];
}

/**
 * What the cover of these jobs rests on, read from the books as the reader sees them.
 * @param further parts for which nobody asks yet and which are thought of all the same
 */
export async function readWorkshopFacts(
  reader: Reader,
  today: string,
  whose: WhoseCover,
  further: readonly string[] = [],
): Promise<WorkshopFacts> {
  const asked = whose !== 'every open job' && 'jobId' in whose ? whose.jobId : null;
  const reading = reader.rows<WantingJob & Record<string, unknown>>(readJobs, [closedStates, asked]);
  const shown = await shownJobs(whose, reading);
  const touched = whose !== 'every open job' && 'partIds' in whose ? whose.partIds : [];
  const [jobs, ofShown, fitted] = await Promise.all([
    reading,
    reader.rows<LineFacts & Record<string, unknown>>(linesOfJobs, [shown]),
    reader.rows<FittedFact & Record<string, unknown>>(readFitted, [shown]),
  ]);
  const ids = jobs.map(({ id }) => id);
  const seeds = [...new Set([...touched, ...ofShown.map(({ partId }) => partId)])];
  const { wanted, servers, pool } = await reached(reader, seeds, whose === 'every open job');
  const others = ids.filter((id) => !shown.includes(id));
  const beside =
    others.length === 0 ? [] : await reader.rows<LineFacts & Record<string, unknown>>(linesAsking, [[...wanted], others]);
  const lines = [...ofShown, ...beside];
  const parts = [...new Set([...pool, ...further])];
  const customers = [...new Set(jobs.flatMap(({ customerId }) => customerId ?? []))];
  const [claims, stock, receipts, away, donors, substitutes] = await Promise.all([
    reader.rows<ClaimFact & Record<string, unknown>>(readClaims, [shown, lines.map(({ id }) => id), parts, ids]),
    reader.rows<StockFact & Record<string, unknown>>(readStock, [parts, customers]),
    reader.rows<ReceiptFact & Record<string, unknown>>(readReceipts, [parts, ids]),
    reader.rows<AwayFact & Record<string, unknown>>(readAway, [parts, closedStates]),
    donorsOf(reader, parts),
    substitutesOfJobs(reader, [...new Set(lines.map(({ jobId }) => jobId))]),
  ]);
  const setIds = [...new Set(stock.flatMap(({ setId }) => setId ?? []))];
  const sets = setIds.length === 0 ? [] : await reader.rows<SetFact & Record<string, unknown>>(readSets, [setIds]);
  return { today, jobs, lines, fitted, claims, stock, sets, receipts, away, donors, servers, substitutes };
}

/** The jobs whose every line is asked for; only where that is all of them must it be known first which there are. */
async function shownJobs(whose: WhoseCover, jobs: Promise<readonly WantingJob[]>): Promise<readonly string[]> {
  if (whose === 'every open job') return (await jobs).map(({ id }) => id);
  return 'jobId' in whose ? [whose.jobId] : whose.jobIds;
}

interface Reached {
  /** parts that lines ask for */
  wanted: ReadonlySet<string>;
  /** with those that may serve in their place */
  pool: ReadonlySet<string>;
  servers: ReadonlyMap<string, readonly Server[]>;
}

/**
 * From the parts of some lines to all parts through which lines of open jobs bear on these, and back; also through sets that stay
 * together: which job one goes to rests on the lines for all of its parts.
 */
async function reached(reader: Reader, seeds: readonly string[], isEverything: boolean): Promise<Reached> {
  const wanted = new Set<string>();
  const pool = new Set<string>();
  const servers = new Map<string, readonly Server[]>();
  let next = [...seeds];
  for (let round = 0; next.length > 0 && round < roundsMax; round += 1) {
    const before = new Set(pool);
    for (const partId of next) {
      wanted.add(partId);
      pool.add(partId);
    }
    for (const [partId, found] of await serversInTurn(reader, next)) {
      servers.set(partId, found);
      for (const { part } of found) pool.add(part.id);
    }
    for (const partId of await partsAcceptedFor(reader, next)) pool.add(partId);
    if (isEverything) break;
    const fresh = [...pool].filter((partId) => !before.has(partId));
    const [beside, kept] = await Promise.all([partsWantedBeside(reader, fresh), partsKeptWith(reader, fresh)]);
    next = [...new Set([...beside, ...kept])].filter((partId) => !wanted.has(partId));
  }
  return { wanted, pool, servers };
}

async function serversInTurn(reader: Reader, partIds: readonly string[]): Promise<[string, readonly Server[]][]> {
  const found: [string, readonly Server[]][] = [];
  for (let from = 0; from < partIds.length; from += partsAtOnce)
    found.push(...(await serversOf(reader, partIds.slice(from, from + partsAtOnce))));
  return found;
}
