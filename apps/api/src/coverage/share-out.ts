import { allocateConnected } from '@corewright/allocation/allocate';
import type { Demand, Link, Supply } from '@corewright/allocation/allocation-problem';
import { connectedParts } from '@corewright/allocation/connected-parts';
import type { Make, Source as SourceOfLot } from '@corewright/contracts/base';
import type { Decimal } from '@corewright/quantities/decimal';
import type { ReceiptFact, WorkshopFacts } from './coverage-facts.js';
import { grouped } from './grouped.js';
import { type Asking, askingLines, type MayServe, type Source, whatMayServe } from './sources.js';
import { indexOf, type WorkshopIndex } from './workshop-index.js';

/** What a line is given from a source. */
export interface Given extends MayServe {
  quantity: Decimal;
}

/** What goes where over all these jobs, and what else might have. */
export interface SharedOut {
  asking: readonly Asking[];
  /** by the line: what it is given, the surest first */
  given: ReadonlyMap<string, readonly Given[]>;
  /** by the line: everything that may serve it */
  mayServe: ReadonlyMap<string, readonly MayServe[]>;
  /** by the source: the lines that are given of it */
  takers: ReadonlyMap<string, readonly Given[]>;
  facts: WorkshopFacts;
  index: WorkshopIndex;
}

/**
 * Shares out what there is among the lines of these jobs.
 *
 * Lines stand in levels: level 2r for the critical lines of the job of rank r, 2r + 1 for its others. With x(s, l) >= 0 of source s given to line l:
 *   1. the greatest sum of x into level 0; that kept, into level 1; and so on
 *   2. of all such x, for each job in order, the least sum of x(s, l) place(s): the place of the source's class in the order of comfort,
 *      which is: in the tray; reserved on a shelf; not yet looked at; free in stores; at an outworker; on order, what is reserved first, by due
 *      date; from a core
 *   3. of these, one after another, the least sum of x(s, l) times
 *      a. how far the part is from the one that the line asks for: itself 0, the same 1, superseding 2, accepted to serve 3, not accepted 4
 *      b. how far down the source of the lot stands in the order of preference
 *      c. how many lines the source may serve: what serves few is used up first
 *      d. the place of its packet, the oldest first
 *      e. the place of its code
 */
export function shareOut(facts: WorkshopFacts): SharedOut {
  const asking = askingLines(facts);
  const may = whatMayServe(facts, asking);
  const serves = grouped(may, ({ source }) => source.id);
  const mayServe = grouped(may, (each) => each.asking.line.id);
  const byLink = new Map<Link, MayServe>(
    may.map((each) => [{ supplyId: each.source.id, demandId: each.asking.line.id, cost: [] }, each]),
  );
  const problem = {
    supplies: [...serves].map(([id, [first]]): Supply => ({ id, quantity: Number(first?.source.quantity ?? 0) })),
    demands: asking.filter(({ open }) => open > 0n).map(demandOf),
    links: [...byLink.keys()],
  };
  const given = new Map<string, Given[]>();
  for (const part of connectedParts(problem)) {
    const links = weigh(
      part.links.map((link) => byLink.get(link) as MayServe),
      serves,
    );
    for (const { supplyId, demandId, quantity } of allocateConnected({ ...part, links })) {
      const each = mayServe.get(demandId)?.find(({ source }) => source.id === supplyId) as MayServe;
      const ofLine = given.get(demandId) ?? [];
      ofLine.push({ ...each, quantity: BigInt(quantity) as Decimal });
      given.set(demandId, ofLine);
    }
  }
  for (const ofLine of given.values()) ofLine.sort(bySureness);
  return {
    asking,
    given,
    mayServe,
    takers: grouped([...given.values()].flat(), ({ source }) => source.id),
    facts,
    index: indexOf(facts),
  };
}

/** Of a line: the surest first, the very part before what stands in its place; then by code. */
function bySureness(one: Given, other: Given): number {
  return (
    compareClasses(classOf(one.source), classOf(other.source)) ||
    distanceOf(one.offer) - distanceOf(other.offer) ||
    compareText(codeOf(one.source), codeOf(other.source))
  );
}

function demandOf({ line, rank, open }: Asking): Demand {
  return { id: line.id, level: 2 * rank + (line.critical ? 0 : 1), quantity: Number(open) };
}

/** A class of comfort: of orders also the day, the one without a day last. */
type ComfortClass = readonly [comfort: number, dueOn: string];

const noDay = '9999-12-31';

function classOf(source: Source): ComfortClass {
  switch (source.kind) {
    case 'claimed':
      return [source.claim.inTray ? 0 : source.claim.firm === null ? 1 : 4, ''];
    case 'not looked at':
      return [2, ''];
    case 'lot':
      return [3, ''];
    case 'away':
      return [4, ''];
    case 'order':
      return [5, orderClass(source.receipt)];
    case 'core':
      return [6, ''];
  }
}

/** What the line has reserved is used before what is free, so that it does not lie idle; then by the day. */
function orderClass({ reserved, dueOn, confirmed }: ReceiptFact): string {
  return `${reserved === null ? 1 : 0} ${dueOn ?? noDay} ${confirmed ? 0 : 1}`;
}

function compareClasses(one: ComfortClass, other: ComfortClass): number {
  return one[0] - other[0] || compareText(one[1], other[1]);
}

function compareText(one: string, other: string): number {
  if (one === other) return 0;
  return one < other ? -1 : 1;
}

/** The places of the further figures of a cost; before them each job has one, by its rank. */
const furtherFrom = 1_000_000;

/** The costs of what hangs together. */
function weigh(links: readonly MayServe[], serves: ReadonlyMap<string, readonly MayServe[]>): Link[] {
  const sources = [...new Set(links.map(({ source }) => source))];
  const places = placesOf(sources, classOf, compareClasses);
  const packets = placesOf(sources, packetOf, compareText);
  const codes = placesOf(sources, codeOf, compareText);
  return links.map(({ source, asking, offer }) => {
    const further = [
      distanceOf(offer),
      preferenceOf(source, asking),
      serves.get(source.id)?.length ?? 0,
      packets.get(source)!,
      codes.get(source)!,
    ];
    const cost = new Map<number, number>();
    const comfort = places.get(source)!;
    if (comfort > 0) cost.set(asking.rank, comfort);
    for (const [index, figure] of further.entries()) if (figure > 0) cost.set(furtherFrom + index, figure);
    return { supplyId: source.id, demandId: asking.line.id, cost };
  });
}

/** The place of each in order, those that are alike at one place. */
function placesOf<Key>(
  sources: readonly Source[],
  keyOf: (source: Source) => Key,
  compare: (one: Key, other: Key) => number,
): ReadonlyMap<Source, number> {
  const keyed = sources.map((source) => ({ source, key: keyOf(source) })).toSorted((one, other) => compare(one.key, other.key));
  const places = new Map<Source, number>();
  let place = -1;
  for (const [index, { source, key }] of keyed.entries()) {
    const before = keyed[index - 1];
    if (before === undefined || compare(before.key, key) !== 0) place += 1;
    places.set(source, place);
  }
  return places;
}

function distanceOf(offer: MayServe['offer']): number {
  if (offer === null || offer.instead === null) return 0;
  if (!offer.instead.isAccepted) return 4;
  return { 'same as': 1, superseding: 2, 'will serve for': 3 }[offer.instead.as];
}

/**
 * Where a line says what it accepts, in its order; else new parts before used ones, and old stock last of what is known: it cannot be had
 * again (common practice).
 */
const preferred: readonly SourceOfLot[] = ['this unit', 'new', 'harvested', 'bought used', 'made here', 'old stock', 'unknown'];
const preferredMakes: readonly Make[] = ['genuine', 'original supplier', 'made here', 'pattern', 'unknown'];

function preferenceOf(source: Source, { line, job }: Asking): number {
  if (source.kind === 'order') return source.receipt.forJobId === job.id ? 0 : 1;
  if (source.kind !== 'lot') return 0;
  // a customer's own goods serve nobody else
  const isOurs = source.lot.ownerId === null ? 1 : 0;
  const order = line.sources.length > 0 ? line.sources : preferred;
  const makes = line.makes.length > 0 ? line.makes : preferredMakes;
  return (
    isOurs * order.length * makes.length +
    Math.max(order.indexOf(source.lot.source), 0) * makes.length +
    Math.max(makes.indexOf(source.lot.make), 0)
  );
}

function packetOf(source: Source): string {
  return source.kind === 'lot' ? (source.lot.packetEarliest ?? noDay) : '';
}

function codeOf(source: Source): string {
  switch (source.kind) {
    case 'claimed':
      return source.claim.code;
    case 'not looked at':
      return '';
    case 'lot':
      return source.lot.code;
    case 'away':
      return source.away.code;
    case 'order':
      return `${source.receipt.orderReference} ${source.receipt.id}`;
    case 'core':
      return source.donor.code;
  }
}
