import type { CountDue, CountDueList, CountSettings } from '@corewright/contracts/counting';
import { addDays, daysBetween } from '@corewright/quantities/plain-date';
import { Injectable } from '@nestjs/common';
import { WorkshopClock } from '../../people/workshop.js';
import { Database, type Reader } from '../../platform/database/database.js';
import { type PartToCount, type PlaceToCount, partsToCount, placesToCount } from './due.queries.js';
import { countSettings, daysOf } from './settings.js';
import { termOf } from './term-of.js';

const shownMax = 500;

/** What is due to be counted, and what will be. */
@Injectable()
export class CountSchedule {
  constructor(
    private readonly database: Database,
    private readonly clock: WorkshopClock,
  ) {}

  /** @param reader the transaction of who asks from inside one */
  async due(reader: Reader = this.database): Promise<CountDueList> {
    const on = await this.clock.today(reader);
    const settings = await countSettings(reader);
    const places = await placesToCount(reader);
    const all = [
      ...places.filter(({ hasGoods }) => hasGoods).map((place) => dueOfPlace(place, places, settings, on)),
      ...(await partsToCount(reader)).map((part) => dueOfPart(part, settings, on)),
    ].sort(
      (one, other) => other.daysOver - one.daysOver || one.name.localeCompare(other.name, 'en') || (one.id < other.id ? -1 : 1),
    );
    return {
      on,
      due: all.slice(0, shownMax),
      dueTotal: all.filter(({ daysOver }) => daysOver >= 0).length,
      more: all.length > shownMax,
    };
  }
}

function dueOfPlace(place: PlaceToCount, all: readonly PlaceToCount[], settings: CountSettings, on: string): CountDue {
  const { days, words } = termOf(place, all, settings);
  const counted = place.lastOn ?? place.sinceOn ?? on;
  return {
    kind: 'place',
    id: place.id,
    code: place.code,
    name: place.path,
    lastOn: place.lastOn,
    ...whenDue(counted, days, on),
    why: words,
    underWay: place.countId === null ? null : { id: place.countId, number: place.countNumber ?? 0 },
  };
}

function dueOfPart(part: PartToCount, { scarceAtMost, scarceDays }: CountSettings, on: string): CountDue {
  const words = part.isMarked ? 'marked as scarce' : `${scarceAtMost} or fewer of ours are in stores`;
  return {
    kind: 'part',
    id: part.id,
    code: null,
    name: [part.number, part.name].filter(Boolean).join(', '),
    lastOn: part.lastOn,
    ...whenDue(part.lastOn ?? part.sinceOn, scarceDays, on),
    why: `${words}: every ${daysOf(scarceDays)}`,
    underWay: part.countId === null ? null : { id: part.countId, number: part.countNumber ?? 0 },
  };
}

/** What nobody has ever counted is due so many days after the books first had it. */
function whenDue(since: string, days: number, on: string): { dueOn: string; daysOver: number } {
  const dueOn = addDays(since, days);
  return { dueOn, daysOver: daysBetween(dueOn, on) };
}
