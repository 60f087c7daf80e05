import type { CoveredLine } from '@corewright/contracts/coverage';
import type { SharedOut } from '../coverage/share-out.js';
import { whyLotMayNotServe } from '../coverage/why-lot-may-not-serve.js';
import { closedStates, spoken } from '../jobs/job.queries.js';
import type { Reader } from '../platform/database/database.js';
import { countDifferenceId, scrapId } from '../stores/ledger.js';
import type { Rest } from './standing.js';

interface FateOfThing {
  id: string;
  held: boolean;
  missing: boolean;
  /** of a unit */
  stage: string | null;
  /** the way it went last */
  toHolderId: string | null;
  wentTo: string | null;
  /** the job in whose unit or tray it is, the firm that has it */
  whose: string | null;
  /** the last hold or condemnation that stands, for what no longer counts as stock */
  heldBackReason: string | null;
}

interface FateOfOrder {
  id: string;
  calledOff: boolean;
  arrived: boolean;
  forJobId: string | null;
}

interface Removal {
  lineId: string;
  why: string;
}

/** What has become of the things and orders that lines rested on. */
export interface Fates {
  things: ReadonlyMap<string, FateOfThing>;
  orders: ReadonlyMap<string, FateOfOrder>;
  /** by the line: why something was taken out of the unit again, most lately */
  removals: ReadonlyMap<string, string>;
}

const readThings = `
  SELECT things.id, held > 0 AS held, missing_since IS NOT NULL AS missing, stage, held_back_reason AS "heldBackReason", last.*
    FROM things LEFT JOIN units ON units.thing_id = things.id
    LEFT JOIN LATERAL (
      SELECT to_holder_id AS "toHolderId", holders.kind AS "wentTo",
             coalesce((SELECT 'job ' || min(codes.code) FROM jobs JOIN codes ON subject_id = jobs.id AND codes.kind = 'J'
                        WHERE (unit_id = to_holder_id OR tray_id = to_holder_id) AND state <> ALL ($2)),
                      (SELECT name FROM parties WHERE parties.id = to_holder_id)) AS whose
        FROM movements JOIN holders ON holders.id = to_holder_id WHERE movements.thing_id = things.id ORDER BY sequence DESC LIMIT 1) AS last ON true
   WHERE things.id = ANY ($1::uuid[])`;
const readOrders = `
  SELECT id, called_off AS "calledOff", quantity_received >= quantity AS arrived, for_job_id AS "forJobId"
    FROM expected_receipts WHERE id = ANY ($1::uuid[])`;
const readRemovals = `
  SELECT DISTINCT ON (job_line_id) job_line_id AS "lineId", fitting_endings.why
    FROM fitting_endings JOIN fittings ON fittings.id = fitting_id WHERE job_line_id = ANY ($1::uuid[])
   ORDER BY job_line_id, fitting_endings.recorded_at DESC`;

/** @param gone by the line: what it no longer rests on */
export async function readFates(reader: Reader, gone: ReadonlyMap<string, readonly Rest[]>): Promise<Fates> {
  if (gone.size === 0) return { things: new Map(), orders: new Map(), removals: new Map() };
  const rests = [...gone.values()].flat();
  const idsOf = (isOrder: boolean) => [
    ...new Set(rests.flatMap(({ id, state }) => (id !== null && (state === 'on order') === isOrder ? [id] : []))),
  ];
  const [things, orders, removals] = await Promise.all([
    reader.rows<FateOfThing & Record<string, unknown>>(readThings, [idsOf(false), closedStates]),
    reader.rows<FateOfOrder & Record<string, unknown>>(readOrders, [idsOf(true)]),
    reader.rows<Removal & Record<string, unknown>>(readRemovals, [[...gone.keys()]]),
  ]);
  return {
    things: new Map(things.map((thing) => [thing.id, thing])),
    orders: new Map(orders.map((order) => [order.id, order])),
    removals: new Map(removals.map(({ lineId, why }) => [lineId, why])),
  };
}

const wasNotFound = 'was not found where the books have it';

interface Asked {
  line: CoveredLine;
  shared: SharedOut;
  fates: Fates;
}

/** What has become of something that a line rested on, in a sentence. */
export function fateOf(rest: Rest, asked: Asked): string {
  const { state, id, name } = rest;
  if (state === 'on order') return fateOfOrder(rest, asked);
  if (state === 'not yet looked at' || state === 're-used') return fateOfOwn(asked);
  if (state === 'fitted') {
    const why = asked.fates.removals.get(asked.line.id) ?? '';
    return `What was fitted was taken out again${why === '' ? '' : `: ${why}`}.`;
  }
  return `${state === 'from a core' ? 'Core ' : ''}${spoken(name)} ${whatOfThing(id ?? '', asked)}.`;
}

function fateOfOwn({ line, shared }: Asked): string {
  const facts = shared.facts.lines.find(({ id }) => id === line.id);
  return `This unit’s own was looked at: ${(facts?.findingWords || 'it cannot be used again').replace(/\.$/, '')}.`;
}

function fateOfOrder({ id, name }: Rest, { line, shared, fates }: Asked): string {
  const fate = fates.orders.get(id ?? '');
  if (fate === undefined || fate.calledOff) return `Order ${name} was called off.`;
  if (fate.arrived) return `Order ${name} came, and what came went elsewhere.`;
  const other = shared.index.jobs.get(fate.forJobId ?? '');
  const asking = shared.asking.find((each) => each.line.id === line.id);
  if (other !== undefined && other.id !== asking?.job.id) return `Order ${name} was made out to job ${spoken(other.code)}.`;
  return givenAway(line, `order ${name} `) ?? `Order ${name} no longer covers it.`;
}

/** Who gets what a line could use; null where nobody does. @param named begins what is said of it */
function givenAway({ elsewhere }: CoveredLine, named: string): string | null {
  const taken = elsewhere.find(({ words }) => words.startsWith(named));
  if (taken === undefined) return null;
  const which = `${named.charAt(0).toUpperCase()}${named.slice(1)}`;
  return `${which}goes to job ${spoken(taken.job.code)} first${taken.words.includes(': ') ? `: ${taken.words.split(': ')[1]}` : ''}.`;
}

function whatOfThing(id: string, { line, shared, fates }: Asked): string {
  const facts = shared.facts.lines.find((each) => each.id === line.id);
  const lot = shared.index.lots.get(id);
  const unfit = lot === undefined || facts === undefined ? null : whyLotMayNotServe(lot, facts, shared.facts.today);
  const thing = fates.things.get(id);
  if (unfit?.startsWith('missing')) return wasNotFound;
  if (unfit !== null)
    return unfit === 'condemned'
      ? 'is condemned'
      : unfit.startsWith('held back')
        ? `is ${unfit}`
        : `may not be used: ${unfit.replace(/\.$/, '')}`;
  const taken = line.elsewhere.find((each) => each.thing?.id === id);
  if (thing === undefined) return 'is no longer in the books';
  if (!thing.held) return whereItWent(thing);
  if (thing.heldBackReason !== null) return `is held back: ${thing.heldBackReason}`;
  if (taken !== undefined) {
    const job = `job ${spoken(taken.job.code)}`;
    if (taken.how === 'in its tray') return `is in the tray of ${job}`;
    if (taken.how === 'reserved') return `is reserved for ${job}`;
    return `goes to ${job} first: ${taken.words.split(': ')[1] ?? 'it comes before this one'}`;
  }
  if (thing.stage !== null && thing.stage !== 'core')
    return thing.stage === 'stripped' ? 'was taken apart and did not give it' : `is no longer a core: it is ${thing.stage}`;
  if (thing.toHolderId === countDifferenceId) return 'was found to be fewer than the books said';
  if (thing.missing) return wasNotFound;
  return thing.wentTo === 'unit' || thing.wentTo === 'tray' ? whereItWent(thing) : 'no longer covers it';
}

function whereItWent({ toHolderId, wentTo, whose, missing }: FateOfThing): string {
  if (toHolderId === scrapId) return 'was scrapped';
  if (toHolderId === countDifferenceId) return 'was not there when it was counted';
  if (missing) return wasNotFound;
  const job = whose?.startsWith('job ') === true ? `job ${spoken(whose.slice(4))}` : null;
  switch (wentTo) {
    case 'unit':
      return job === null ? 'went into another unit' : `was fitted for ${job}`;
    case 'tray':
      return job === null ? 'went into another tray' : `is in the tray of ${job}`;
    case 'outworker':
      return `is with ${whose ?? 'an outworker'}`;
    case 'supplier':
      return `went back to ${whose ?? 'its supplier'}`;
    case 'customer':
      return `went to ${whose ?? 'a customer'}`;
    default:
      return 'is no longer in stores';
  }
}
