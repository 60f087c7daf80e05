import type { OfferHere, PickList, PickRow, PickStop } from '@corewright/contracts/pick-list';
import {
  addDecimals,
  type Decimal,
  decimalFrom,
  formatDecimal,
  lesserDecimal,
  subtractDecimals,
  sumDecimals,
  zero,
} from '@corewright/quantities/decimal';
import { grouped } from '../grouped.js';
import type { Fetch } from './fetches.js';
import { compareWays } from './walking-order.js';

/** So many of a thing lie at a place. */
export interface Lying {
  thingId: string;
  place: PickStop['place'];
  quantity: string;
}

interface Taken {
  fetch: Fetch;
  place: PickStop['place'];
  quantity: Decimal;
}

export interface Walk {
  stops: PickStop[];
  /** what the books count on and none of these places has */
  unreached: Fetch[];
}

/**
 * Where each thing is taken, as a stop for each place in walking order.
 * @param fetches in the order in which jobs are served
 * @param lying of each thing in the order in which a scan takes it from its places
 */
export function walkOf(fetches: readonly Fetch[], lying: readonly Lying[]): Walk {
  const left = new Map(
    [...grouped(lying, ({ thingId }) => thingId)].map(([thingId, places]) => [
      thingId,
      places.map(({ place, quantity }) => ({ place, there: decimalFrom(quantity) })),
    ]),
  );
  const taken: Taken[] = [];
  const unreached: Fetch[] = [];
  for (const fetch of fetches) {
    let wanted = fetch.quantity;
    for (const at of left.get(fetch.thing.id) ?? []) {
      const quantity = lesserDecimal(wanted, at.there);
      if (quantity <= zero) continue;
      taken.push({ fetch, place: at.place, quantity });
      at.there = subtractDecimals(at.there, quantity);
      wanted = subtractDecimals(wanted, quantity);
    }
    if (wanted > zero) unreached.push({ ...fetch, quantity: wanted });
  }
  return { stops: stopsOf(taken), unreached };
}

function stopsOf(taken: readonly Taken[]): PickStop[] {
  const inAll = new Map<string, Decimal>();
  for (const { fetch, quantity } of taken) inAll.set(keyOf(fetch), addDecimals(inAll.get(keyOf(fetch)) ?? zero, quantity));
  return [...grouped(taken, ({ place }) => place.id).values()]
    .map((atPlace) => ({ place: (atPlace[0] as Taken).place, rows: rowsOf(atPlace, inAll) }))
    .toSorted((one, other) => compareWays(one.place.path, other.place.path) || compareText(one.place.id, other.place.id));
}

/** One row for a thing and a job, however many of its lines want it; things in the order of their codes, jobs as they are served. */
function rowsOf(atPlace: readonly Taken[], inAll: ReadonlyMap<string, Decimal>): PickRow[] {
  return [...grouped(atPlace, ({ fetch }) => keyOf(fetch))]
    .map(([key, ofJob]) => rowOf(ofJob, inAll.get(key) ?? zero))
    .toSorted((one, other) => compareText(one.thing.code, other.thing.code));
}

function rowOf(ofJob: readonly Taken[], inAll: Decimal): PickRow {
  const { jobId, thing, part, inPlaceOf, unitOfMeasure } = (ofJob[0] as Taken).fetch;
  return {
    jobId,
    thing,
    part,
    unitOfMeasure,
    quantity: formatDecimal(sumDecimals(ofJob.map(({ quantity }) => quantity))),
    inAll: formatDecimal(inAll),
    inPlaceOf,
    isReserved: ofJob.every(({ fetch }) => fetch.isReserved),
    lines: [...grouped(ofJob, ({ fetch }) => fetch.line.lineId).values()].map((ofLine) => ({
      ...(ofLine[0] as Taken).fetch.line,
      quantity: formatDecimal(sumDecimals(ofLine.map(({ quantity }) => quantity))),
    })),
  };
}

function keyOf({ jobId, thing }: Fetch): string {
  return `${jobId} ${thing.id}`;
}

function compareText(one: string, other: string): number {
  if (one === other) return 0;
  return one < other ? -1 : 1;
}

/** Where what is only offered lies: each offer at the place that a scan would take it from first. */
export function offersAtPlaces(offers: readonly OfferHere[], lying: readonly Lying[]): PickList['offersAt'] {
  const at = new Map<string, PickList['offersAt'][number]>();
  for (const offer of offers) {
    const first = lying.find(({ thingId }) => thingId === offer.thing.id);
    if (first === undefined) continue;
    const there = at.get(first.place.id) ?? { place: first.place, offers: [] };
    there.offers.push(offer);
    at.set(first.place.id, there);
  }
  return [...at.values()].toSorted((one, other) => compareWays(one.place.path, other.place.path));
}
