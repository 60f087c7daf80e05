import { type Server, serversOf } from '../catalogue/relations/served-by.js';
import { storedFacts } from '../catalogue/storage-life.js';
import { ownAwayOf } from '../cores/own-away.js';
import { countsOfTypes } from '../cores/yields/yield.queries.js';
import { substitutesOfJobs } from '../jobs/accept-substitute/substitute.queries.js';
import { closedStates, fittedOf, reusedOf } from '../jobs/job.queries.js';
import { lineAccepts, lineAcceptsFrom } from '../jobs/line-accepts.js';
import type { Reader } from '../platform/database/database.js';
import { listed } from '../platform/database/listed.js';
import { boundSetOf } from '../stores/kept-sets/kept-set.queries.js';
import { givingComponents, wholeCores } from './buildable/buildable.queries.js';
import type {
  AwayFact,
  ClaimFact,
  DonorFact,
  FittedFact,
  LineFacts,
  ReceiptFact,
  SetFact,
  StockFact,
  WantingJob,
  WorkshopFacts,
} from './coverage-facts.js';
import { partsAcceptedFor, partsKeptWith, partsWantedBeside } from './wanted-parts.js';
import { whereItLies } from './whereabouts.js';

/** A part has a handful of lots; where it has more, the oldest packets are enough. */
const lotsPerPartMax = 60;
/** Of each type so many cores are thought of as donors: more are never broken for what jobs lack. */
const donorsPerTypeMax = 6;
/** Relations are asked for so many parts at a time: the search has a limit of its own. */
const partsAtOnce = 100;
/** Jobs that bear on each other through some chain of others are found in a round or two. */
const roundsMax = 12;

const jobColumns = `
  jobs.id, codes.code, title, customer_id AS "customerId", state, priority,
  (SELECT given FROM dates_given WHERE job_id = jobs.id ORDER BY recorded_at DESC LIMIT 1) AS "dateGiven"`;
/** The order in which jobs are served: priority, then the date that was given, then age. */
const readJobs = `
  SELECT * FROM (SELECT ${jobColumns}, opened_on FROM jobs JOIN codes ON subject_id = jobs.id AND codes.kind = 'J' AND voided_at IS NULL
                  WHERE state <> ALL ($1) OR jobs.id = $2) AS wanting
   ORDER BY state = ANY ($1), priority, "dateGiven" NULLS LAST, opened_on, id`;

const readLines = `
  SELECT job_lines.id, job_lines.job_id AS "jobId", line_no AS "lineNo", job_lines.part_id AS "partId", parts.name, coalesce(part_numbers.number, '') AS number, parts.unit_of_measure AS "unitOfMeasure",
         quantity AS needed, operation_id AS "operationId", job_operations.number AS "operationNumber", critical, reusable, further,
         waived_reason AS waived, job_lines.version, ${lineAccepts},
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
const linesAsking = `
  ${readLines} WHERE job_lines.part_id = ANY (${listed('$1')}) AND job_lines.job_id = ANY (${listed('$2')}) AND waived_reason IS NULL ${inOrder}`;

const readFitted = `
  SELECT job_line_id AS "lineId", fittings.id AS "fittingId", thing_id AS "thingId", (SELECT min(code) FROM codes WHERE subject_id = thing_id) AS code,
         coalesce((SELECT parts.name FROM lots JOIN parts ON parts.id = part_id WHERE lots.thing_id = fittings.thing_id), (SELECT name FROM components WHERE components.thing_id = fittings.thing_id), 'part') AS name,
         fittings.quantity - coalesce((SELECT sum(quantity) FROM fitting_endings WHERE fitting_id = fittings.id), 0) AS quantity,
         in_place_of AS "inPlaceOf", why, evidence, override_reason AS override, coalesce(people.display_name, '') AS by, fittings.recorded_at AS at
    FROM fittings JOIN job_lines ON job_lines.id = job_line_id LEFT JOIN people ON people.id = fittings.person_id
   WHERE job_id = ANY (${listed('$1')})
     AND fittings.quantity > coalesce((SELECT sum(quantity) FROM fitting_endings WHERE fitting_id = fittings.id), 0)
   ORDER BY fittings.recorded_at`;

/** Of the jobs whose card is asked for all; of the others what concerns these lines and parts. */
const readClaims = `
  SELECT claimant_id AS "jobId", purpose_id AS "lineId", things.id AS "thingId", codes.code, coalesce(parts.name, nullif(lots.words, ''), components.name, 'unit') AS name,
         coalesce(lots.part_id, components.part_id) AS "partId", claims.quantity, tray.held IS NOT NULL AS "inTray",
         CASE WHEN tray.held IS NULL THEN ${whereItLies} ELSE 'in the tray' END AS where
    FROM claims JOIN things ON things.id = claims.thing_id JOIN codes ON codes.subject_id = things.id AND codes.voided_at IS NULL
    JOIN jobs ON jobs.id = claimant_id
    LEFT JOIN LATERAL (SELECT quantity AS held FROM balances WHERE thing_id = things.id AND holder_id = tray_id AND quantity > 0) AS tray ON true
    LEFT JOIN lots ON lots.thing_id = things.id LEFT JOIN components ON components.thing_id = things.id
    LEFT JOIN parts ON parts.id = coalesce(lots.part_id, components.part_id)
   WHERE claimant_id = ANY (${listed('$2')}) AND claims.quantity > 0
     AND (claimant_id = ANY (${listed('$1')}) OR purpose_id = ANY (${listed('$3')}) OR coalesce(lots.part_id, components.part_id) = ANY (${listed('$4')}))
   ORDER BY codes.code`;

const readStock = `
  SELECT wanted.part_id AS "partId", lot.*
    FROM unnest($1::uuid[]) AS wanted (part_id)
    JOIN LATERAL (
      SELECT things.id AS "thingId", codes.code, parts.name, held - claimed AS free, claimed,
             held_back_reason AS "heldBackReason", condemned, ${boundSetOf('things.id')} AS "setId", owner_id AS "ownerId", source, make, condition, grades.rank AS "gradeRank",
             ${storedFacts}
        FROM lots JOIN things ON things.id = lots.thing_id JOIN parts ON parts.id = lots.part_id
        JOIN codes ON codes.subject_id = things.id AND codes.voided_at IS NULL
        LEFT JOIN grades ON grades.scale = 'part' AND grades.letter = lots.condition
       WHERE lots.part_id = wanted.part_id AND held > 0 AND (owner_id IS NULL OR owner_id = ANY ($2::uuid[]))
       ORDER BY packet_earliest NULLS LAST, codes.code LIMIT ${lotsPerPartMax}) AS lot ON true`;

const readSets = `
  SELECT id, number, words, ARRAY(SELECT takers_of_kept_set(kept_sets.id))::text[] AS takers,
         ARRAY(SELECT thing_id FROM kept_set_members WHERE set_id = kept_sets.id AND bound ORDER BY thing_id)::text[] AS "memberIds"
    FROM kept_sets WHERE id = ANY (${listed('$1')}) ORDER BY id`;

const readReceipts = `
  SELECT expected_receipts.id, expected_receipts.part_id AS "partId", order_reference AS "orderReference", parties.name AS supplier,
         quantity - quantity_received AS outstanding, due_on AS "dueOn", confirmed, for_job_id AS "forJobId"
    FROM expected_receipts JOIN parties ON parties.id = supplier_id
   WHERE part_id = ANY ($1::uuid[]) AND NOT called_off AND quantity_received < quantity
     AND (for_job_id IS NULL OR for_job_id = ANY ($2::uuid[]))
   ORDER BY confirmed DESC, due_on NULLS LAST, order_reference, expected_receipts.id`;

/** What lies at an outworker and belongs to no unit of an open job: that counts as the unit's own. */
const readAway = `
  SELECT coalesce(lots.part_id, components.part_id) AS "partId", things.id AS "thingId", codes.code, coalesce(parts.name, components.name, 'part') AS name,
         firms.name AS firm, balances.quantity - things.claimed AS free
    FROM holders JOIN balances ON holder_id = holders.id AND balances.quantity > 0 JOIN things ON things.id = balances.thing_id AND held = 0
    JOIN codes ON codes.subject_id = things.id AND codes.voided_at IS NULL
    JOIN parties AS firms ON firms.id = holders.id
    LEFT JOIN lots ON lots.thing_id = things.id LEFT JOIN components ON components.thing_id = things.id
    LEFT JOIN parts ON parts.id = coalesce(lots.part_id, components.part_id)
   WHERE holders.kind = 'outworker' AND coalesce(lots.part_id, components.part_id) = ANY ($1::uuid[]) AND owner_id IS NULL AND NOT condemned
     AND NOT EXISTS (SELECT FROM jobs WHERE jobs.unit_id = components.unit_id AND state <> ALL ($2))
   ORDER BY codes.code`;

/** Whose cover is asked for: one job's, with all of the others that bears on it; what was touched; or that of every open job. */
export type WhoseCover = { jobId: string } | Touched | 'every open job';

/** Open jobs, and parts of which something changed: what is read has every line that bears on either. */
export interface Touched {
  jobIds: readonly string[];
  partIds: readonly string[];
}

/** What the cover of these jobs rests on, read from the books as the reader sees them. */
export async function readWorkshopFacts(reader: Reader, today: string, whose: WhoseCover): Promise<WorkshopFacts> {
  const asked = whose !== 'every open job' && 'jobId' in whose ? whose.jobId : null;
  const jobs = await reader.rows<WantingJob & Record<string, unknown>>(readJobs, [closedStates, asked]);
  const ids = jobs.map(({ id }) => id);
  const shown = whose === 'every open job' ? ids : 'jobId' in whose ? [whose.jobId] : whose.jobIds;
  const touched = whose !== 'every open job' && 'partIds' in whose ? whose.partIds : [];
  const [ofShown, fitted] = await Promise.all([
    reader.rows<LineFacts & Record<string, unknown>>(linesOfJobs, [shown]),
    reader.rows<FittedFact & Record<string, unknown>>(readFitted, [shown]),
  ]);
  const seeds = [...new Set([...touched, ...ofShown.map(({ partId }) => partId)])];
  const { wanted, servers, pool } = await reached(reader, seeds, whose === 'every open job', touched.length > 0);
  const others = ids.filter((id) => !shown.includes(id));
  const beside =
    others.length === 0 ? [] : await reader.rows<LineFacts & Record<string, unknown>>(linesAsking, [[...wanted], others]);
  const lines = [...ofShown, ...beside];
  const parts = [...pool];
  const customers = [...new Set(jobs.flatMap(({ customerId }) => customerId ?? []))];
  const [claims, stock, receipts, away, donors, substitutes] = await Promise.all([
    reader.rows<ClaimFact & Record<string, unknown>>(readClaims, [shown, ids, beside.map(({ id }) => id), parts]),
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

interface Reached {
  /** parts that lines ask for */
  wanted: ReadonlySet<string>;
  /** with those that may serve in their place */
  pool: ReadonlySet<string>;
  servers: ReadonlyMap<string, readonly Server[]>;
}

/**
 * From the parts of some lines to all parts through which lines of open jobs bear on these, and back.
 * @param withSets also through sets that stay together: which job one goes to rests on the lines for all of its parts
 */
async function reached(reader: Reader, seeds: readonly string[], isEverything: boolean, withSets: boolean): Promise<Reached> {
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
    const [beside, kept] = await Promise.all([partsWantedBeside(reader, fresh), withSets ? partsKeptWith(reader, fresh) : []]);
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

/** Whole cores that have one of these parts, with how often it was serviceable. */
async function donorsOf(reader: Reader, partIds: readonly string[]): Promise<DonorFact[]> {
  const giving = await givingComponents(reader, partIds);
  const typeIds = [...new Set(giving.map(({ typeId }) => typeId))];
  if (typeIds.length === 0) return [];
  const [cores, counts] = await Promise.all([wholeCores(reader, typeIds, donorsPerTypeMax), countsOfTypes(reader, typeIds)]);
  return cores.flatMap(({ typeId, unit }) =>
    giving
      .filter((component) => component.typeId === typeId)
      .map(({ typeName, position, partId, eachHas }) => {
        const seen = counts.find((count) => count.typeId === typeId && count.position === position);
        const { serviceable, looked } = seen ?? { serviceable: 0, looked: 0 };
        return { unitId: unit.id, code: unit.code, name: typeName, partId, position, eachHas, serviceable, looked };
      }),
  );
}
