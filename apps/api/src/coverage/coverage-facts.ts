import type { Make, PacketCondition, Source } from '@corewright/contracts/base';
import type { Material } from '@corewright/standards/storage-life';
import { type Server, serversOf } from '../catalogue/relations/served-by.js';
import { type StoredFacts, storedFacts } from '../catalogue/storage-life.js';
import { ownAwayOf } from '../cores/own-away.js';
import { type SubstituteOfLine, substitutesOfJob } from '../jobs/accept-substitute/substitute.queries.js';
import { fittedOf, reusedOf } from '../jobs/job.queries.js';
import { type LineAccepts, lineAccepts, lineAcceptsFrom } from '../jobs/line-accepts.js';
import type { Reader } from '../platform/database/database.js';
import { isOfSetElsewhere } from '../stores/kept-sets/kept-set.queries.js';
import { whereItLies } from './whereabouts.js';

/** A line of a job with what is known of it; quantities are exact decimals as text. */
export interface LineFacts extends LineAccepts {
  id: string;
  lineNo: number;
  partId: string;
  name: string;
  number: string;
  unitOfMeasure: string;
  needed: string;
  operationId: string;
  operationNumber: number;
  critical: boolean;
  reusable: boolean;
  further: boolean;
  waived: string | null;
  version: number;
  fitted: string;
  reused: string;
  /** looked at, whatever came of it */
  lookedAt: string;
  findingWords: string;
  /** what the strip-down of the unit says of its own that is neither here nor lacking: sent out, held, to be reworked; empty for most */
  ownAway: string;
}

export interface FittedFact {
  lineId: string;
  fittingId: string;
  thingId: string;
  code: string;
  name: string;
  quantity: string;
  inPlaceOf: boolean;
  why: string | null;
  evidence: string | null;
  override: string | null;
  by: string;
  at: string;
}

/** What this job has claimed, in its tray or still on a shelf. */
export interface ClaimFact {
  lineId: string | null;
  thingId: string;
  code: string;
  name: string;
  partId: string | null;
  quantity: string;
  where: string;
}

/** A lot of a part that a line asks for, whether or not it may serve. */
export interface StockFact extends Pick<StoredFacts, 'inspectedOn' | 'bearingPacking' | 'bearingStore'> {
  partId: string;
  thingId: string;
  code: string;
  name: string;
  free: string;
  /** by this job and by others */
  claimed: string;
  heldBackReason: string | null;
  condemned: boolean;
  /** it belongs to a set that stays together, of which another job has a part */
  isOfSetElsewhere: boolean;
  ownerId: string | null;
  source: Source;
  make: Make;
  condition: string;
  gradeRank: number | null;
  material: Material;
  polymer: string;
  packetRead: string;
  packetEarliest: string | null;
  packetLatest: string | null;
  packetCondition: PacketCondition;
}

export interface ReceiptFact {
  id: string;
  partId: string;
  orderReference: string;
  supplier: string;
  outstanding: string;
  dueOn: string | null;
  confirmed: boolean;
  forThisJob: boolean;
}

export interface CoverageFacts {
  customerId: string | null;
  today: string;
  lines: LineFacts[];
  fitted: FittedFact[];
  claims: ClaimFact[];
  stock: StockFact[];
  receipts: ReceiptFact[];
  /** by the part that is asked for: what may serve in its place */
  servers: ReadonlyMap<string, readonly Server[]>;
  substitutes: SubstituteOfLine[];
}

/** A part has a handful of lots; where it has more, the oldest packets are enough to cover a line. */
const lotsPerPartMax = 40;

const readLines = `
  SELECT job_lines.id, line_no AS "lineNo", job_lines.part_id AS "partId", parts.name, coalesce(part_numbers.number, '') AS number, parts.unit_of_measure AS "unitOfMeasure",
         quantity AS needed, operation_id AS "operationId", job_operations.number AS "operationNumber", critical, reusable, further,
         waived_reason AS waived, job_lines.version, ${lineAccepts},
         ${fittedOf('job_lines.id')} AS fitted, ${reusedOf('job_lines.id')} AS reused,
         coalesce(finding.seen, 0) AS "lookedAt", coalesce(finding.words, '') AS "findingWords",
         ${ownAwayOf('$1', 'job_lines.part_id')} AS "ownAway"
    FROM job_lines
    JOIN parts ON parts.id = job_lines.part_id
    JOIN job_operations ON job_operations.id = operation_id
    LEFT JOIN part_numbers ON part_numbers.part_id = parts.id AND is_main
    ${lineAcceptsFrom}
    LEFT JOIN LATERAL (SELECT quantity_reused + quantity_replaced AS seen, words FROM findings WHERE job_line_id = job_lines.id ORDER BY recorded_at DESC, id DESC LIMIT 1) AS finding ON true
   WHERE job_lines.job_id = $1 ORDER BY job_operations.number, line_no`;

const readFitted = `
  SELECT job_line_id AS "lineId", fittings.id AS "fittingId", thing_id AS "thingId", (SELECT min(code) FROM codes WHERE subject_id = thing_id) AS code,
         coalesce((SELECT parts.name FROM lots JOIN parts ON parts.id = part_id WHERE lots.thing_id = fittings.thing_id), (SELECT name FROM components WHERE components.thing_id = fittings.thing_id), 'part') AS name,
         fittings.quantity - coalesce((SELECT sum(quantity) FROM fitting_endings WHERE fitting_id = fittings.id), 0) AS quantity,
         in_place_of AS "inPlaceOf", why, evidence, override_reason AS override, coalesce(people.display_name, '') AS by, fittings.recorded_at AS at
    FROM fittings JOIN job_lines ON job_lines.id = job_line_id LEFT JOIN people ON people.id = fittings.person_id
   WHERE job_id = $1
     AND fittings.quantity > coalesce((SELECT sum(quantity) FROM fitting_endings WHERE fitting_id = fittings.id), 0)
   ORDER BY fittings.recorded_at`;

const readClaims = `
  SELECT purpose_id AS "lineId", things.id AS "thingId", codes.code, coalesce(parts.name, nullif(lots.words, ''), components.name, 'unit') AS name,
         coalesce(lots.part_id, components.part_id) AS "partId", claims.quantity,
         CASE WHEN EXISTS (SELECT 1 FROM balances JOIN jobs ON tray_id = balances.holder_id WHERE jobs.id = $1 AND balances.thing_id = things.id AND balances.quantity > 0)
              THEN 'in the tray' ELSE ${whereItLies} END AS where
    FROM claims JOIN things ON things.id = claims.thing_id JOIN codes ON codes.subject_id = things.id AND codes.voided_at IS NULL
    LEFT JOIN lots ON lots.thing_id = things.id LEFT JOIN components ON components.thing_id = things.id
    LEFT JOIN parts ON parts.id = coalesce(lots.part_id, components.part_id)
   WHERE claimant_id = $1 AND claims.quantity > 0 ORDER BY codes.code`;

const readStock = `
  SELECT wanted.part_id AS "partId", lot.*
    FROM unnest($1::uuid[]) AS wanted (part_id)
    JOIN LATERAL (
      SELECT things.id AS "thingId", codes.code, parts.name, held - claimed AS free, claimed,
             held_back_reason AS "heldBackReason", condemned, ${isOfSetElsewhere('things.id', '$3')} AS "isOfSetElsewhere", owner_id AS "ownerId", source, make, condition, grades.rank AS "gradeRank",
             ${storedFacts}
        FROM lots JOIN things ON things.id = lots.thing_id JOIN parts ON parts.id = lots.part_id
        JOIN codes ON codes.subject_id = things.id AND codes.voided_at IS NULL
        LEFT JOIN grades ON grades.scale = 'part' AND grades.letter = lots.condition
       WHERE lots.part_id = wanted.part_id AND held > 0 AND (owner_id IS NULL OR owner_id = $2)
       ORDER BY packet_earliest NULLS LAST, codes.code LIMIT ${lotsPerPartMax}) AS lot ON true`;

const readReceipts = `
  SELECT expected_receipts.id, expected_receipts.part_id AS "partId", order_reference AS "orderReference", parties.name AS supplier,
         quantity - quantity_received AS outstanding, due_on AS "dueOn", confirmed, for_job_id IS NOT NULL AS "forThisJob"
    FROM expected_receipts JOIN parties ON parties.id = supplier_id
   WHERE part_id = ANY ($2::uuid[]) AND NOT called_off AND quantity_received < quantity
     AND (for_job_id IS NULL OR for_job_id = $1)
   ORDER BY for_job_id NULLS LAST, confirmed DESC, due_on NULLS LAST, order_reference`;

/** Everything that the cover of one job rests on. */
export async function readCoverageFacts(
  reader: Reader,
  job: { id: string; customerId: string | null },
  today: string,
): Promise<CoverageFacts> {
  const [lines, fitted, claims, substitutes] = await Promise.all([
    reader.rows<LineFacts & Record<string, unknown>>(readLines, [job.id]),
    reader.rows<FittedFact & Record<string, unknown>>(readFitted, [job.id]),
    reader.rows<ClaimFact & Record<string, unknown>>(readClaims, [job.id]),
    substitutesOfJob(reader, job.id),
  ]);
  const wanted = [...new Set(lines.map((line) => line.partId))];
  const servers = await serversOf(reader, wanted);
  const instead = [...servers.values()].flatMap((each) => each.map((server) => server.part.id));
  const serving = [...new Set([...wanted, ...instead, ...substitutes.map((each) => each.part.id)])];
  const [stock, receipts] = await Promise.all([
    reader.rows<StockFact & Record<string, unknown>>(readStock, [serving, job.customerId, job.id]),
    reader.rows<ReceiptFact & Record<string, unknown>>(readReceipts, [job.id, serving]),
  ]);
  return { customerId: job.customerId, today, lines, fitted, claims, stock, receipts, servers, substitutes };
}
