import { type AgedLot, type AgedStanding, agedStandings, type ShelfLife } from '@corewright/contracts/shelf-life';
import { addYears } from '@corewright/quantities/plain-date';
import { openBearingYears } from '@corewright/standards/bearing-storage';
import { shortestGroup, storagePeriods } from '@corewright/standards/rubber-groups';
import { Injectable } from '@nestjs/common';
import { storageLifeOf, storageLifeShown } from '../../catalogue/storage-life.js';
import { WorkshopClock } from '../../people/workshop.js';
import { Database } from '../../platform/database/database.js';
import { type LimitedLot, limitedLots, pathsOf } from './shelf-life.queries.js';
import { soonUntil, standingOf } from './standing.js';

/** More than anybody looks through at once; the oldest come first. */
const lotsMax = 2000;

/** What age has done, or soon will have done, to what is in stores. */
@Injectable()
export class ShelfLives {
  constructor(
    private readonly database: Database,
    private readonly clock: WorkshopClock,
  ) {}

  async on(day?: string): Promise<ShelfLife> {
    const on = day ?? (await this.clock.today());
    const soon = soonUntil(on);
    // nothing keeps for less than the shortest period
    const packedBy = {
      rubber: addYears(soon, -storagePeriods[shortestGroup].firstYears),
      bearings: addYears(soon, -openBearingYears.uncontrolled.years),
    };
    const rows = await limitedLots(this.database, packedBy, lotsMax + 1);
    const aged = rows.slice(0, lotsMax).flatMap((row) => {
      const lot = agedLot(row, on);
      return lot === null ? [] : [{ placeId: row.placeId, lot }];
    });
    const paths = await pathsOf(this.database, [...new Set(aged.flatMap(({ placeId }) => placeId ?? []))]);
    return { on, counts: countsOf(aged.map(({ lot }) => lot)), places: byPlace(aged, paths), more: rows.length > lotsMax };
  }
}

function agedLot(row: LimitedLot, on: string): AgedLot | null {
  const life = storageLifeOf(row, on);
  const standing = standingOf(life, on);
  if (standing === null) return null;
  const { id, code, name, number, held, owner, heldBack } = row;
  const endsOn = life.since ?? life.until;
  return { id, code, name, number, held, owner, heldBack, standing, endsOn, storageLife: storageLifeShown(life) };
}

function countsOf(lots: readonly AgedLot[]): Record<AgedStanding, number> {
  const counts = Object.fromEntries(agedStandings.map((standing) => [standing, 0])) as Record<AgedStanding, number>;
  for (const { standing } of lots) counts[standing] += 1;
  return counts;
}

/** Places by their paths, as somebody walks them; what lies in none comes last. */
function byPlace(
  aged: readonly { placeId: string | null; lot: AgedLot }[],
  paths: ReadonlyMap<string, string>,
): ShelfLife['places'] {
  const places = new Map<string | null, ShelfLife['places'][number]>();
  for (const { placeId, lot } of aged) {
    const path = placeId === null ? undefined : paths.get(placeId);
    const id = placeId !== null && path !== undefined ? placeId : null;
    const here = places.get(id) ?? { place: id === null ? null : { id, name: path ?? '' }, lots: [] };
    here.lots.push(lot);
    places.set(id, here);
  }
  return [...places.values()].sort((one, other) => compareNames(one.place?.name, other.place?.name));
}

const inOrder = new Intl.Collator('en', { numeric: true });

function compareNames(one: string | undefined, other: string | undefined): number {
  if (one === undefined || other === undefined) return Number(one === undefined) - Number(other === undefined);
  return inOrder.compare(one, other);
}
