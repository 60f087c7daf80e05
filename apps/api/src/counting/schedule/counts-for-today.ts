import type { TodayItem } from '@corewright/contracts/today';
import { Injectable } from '@nestjs/common';
import { Database } from '../../platform/database/database.js';
import { countList } from '../count-page.js';
import { arrivedLate } from './arrived-late.queries.js';
import { CountSchedule } from './count-schedule.js';

const named = 3;

/** What counting asks of a person today: counts that wait to be posted, and what is due to be counted. */
@Injectable()
export class CountsForToday {
  constructor(
    private readonly database: Database,
    private readonly schedule: CountSchedule,
  ) {}

  async items(): Promise<TodayItem[]> {
    const { open } = await countList(this.database);
    const begun = open.map(
      ({ id, number, title, begunBy, begunAt }): TodayItem => ({
        id: `count:${id}`,
        section: 'stores',
        tag: null,
        title: `Count ${number}, ${title}: begun and not posted`,
        reason: `${begunBy} began it on ${begunAt.slice(0, 10)}. Count what is left of it, decide what differs, and close it.`,
        action: { words: 'Go on with it', path: `/stores/counting/${id}` },
      }),
    );
    return [...begun, ...(await this.late()), ...(await this.due())];
  }

  /** A scan that waited for the network until its thing had been counted without it. */
  private async late(): Promise<TodayItem[]> {
    return (await arrivedLate(this.database)).map(({ thingId, code, name, place, number, occurredAt }) => ({
      id: `counted-without:${thingId}:${place}`,
      section: 'stores',
      tag: { id: thingId, code, name },
      title: `${name}: a scan came after count ${number} was closed`,
      reason: `It was made on ${occurredAt.slice(0, 10)}, before it was counted in ${place}, and the books were compared without it. Count it there once more.`,
      action: { words: 'Look at it', path: `/stores/things/${thingId}` },
    }));
  }

  private async due(): Promise<TodayItem[]> {
    const { due, dueTotal } = await this.schedule.due();
    const waiting = due.filter(({ daysOver, underWay }) => daysOver >= 0 && underWay === null);
    if (waiting.length === 0) return [];
    const rest = dueTotal - Math.min(named, waiting.length);
    const names = waiting.slice(0, named).map(({ name }) => name);
    return [
      {
        id: 'counts-due',
        section: 'stores',
        tag: null,
        title: `${dueTotal === 1 ? '1 place or part is' : `${dueTotal} places and parts are`} due to be counted`,
        reason: `The longest overdue first: ${names.join('; ')}${rest > 0 ? `; and ${rest} more` : ''}.`,
        action: { words: 'See what is due', path: '/stores/counting' },
      },
    ];
  }
}
